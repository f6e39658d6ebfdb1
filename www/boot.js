// Checks that this browser can run Leastcatch, then loads the page. Anything that goes wrong is said in
// the page itself. Written in old JavaScript on purpose: an old browser must be able to read the message.
(function () {
  "use strict";

  var message = document.getElementById("boot-message");
  // The first problem is the cause; what follows from it must not overwrite it.
  var failed = false;

  // The page calls this once it stands, so that "Loading" goes away no earlier.
  function ready() {
    if (!failed) {
      message.hidden = true;
    }
  }

  function fail(text) {
    if (failed) {
      return;
    }
    failed = true;
    message.setAttribute("role", "alert");
    message.className = "boot-message boot-message-failed";
    message.textContent = text;
    message.hidden = false;
  }

  // A module worker that answers is the only sure sign that module workers work here.
  function checkWorkers() {
    var probe;
    try {
      probe = new Worker("worker-check.js", { type: "module" });
    } catch (error) {
      fail("This browser does not let Leastcatch start a background worker: " + error.message);
      return;
    }
    probe.onmessage = function () {
      probe.terminate();
    };
    probe.onerror = function () {
      probe.terminate();
      fail("Leastcatch calculates in background workers (module workers), and none could be started here. " +
        "Please use a current version of Firefox, Chrome, Edge or Safari.");
    };
  }

  function loadPage() {
    var script = document.createElement("script");
    script.type = "module";
    script.src = "start.js";
    script.onerror = function () {
      fail("Leastcatch could not be loaded. Please check the connection and load the page again.");
    };
    document.head.appendChild(script);
  }

  // Hidden until here, so that without JavaScript only the message that asks for it is seen.
  message.hidden = false;
  window.leastcatchBoot = { ready: ready, fail: fail };

  if (location.protocol === "file:") {
    fail("Leastcatch cannot run from a file opened directly. Please put this folder on a web server, " +
      "or run: cargo xtask serve");
  } else if (typeof WebAssembly !== "object" || !("noModule" in HTMLScriptElement.prototype)) {
    fail("Leastcatch needs WebAssembly and JavaScript modules, which this browser does not offer or has " +
      "switched off. Please use a current version of Firefox, Chrome, Edge or Safari.");
  } else if (typeof Worker !== "function") {
    fail("Leastcatch calculates in background workers, which this browser does not offer or has switched off.");
  } else {
    checkWorkers();
    loadPage();
  }
})();
