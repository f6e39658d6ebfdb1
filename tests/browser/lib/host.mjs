// A host of the site that a test can switch off, and whose files it can change.
import { createServer } from "node:http";
import { siteUrl } from "./browser.mjs";

/** Runs `use(host)`: `host.url`, `host.off()`, `host.on()`, and `host.change(name, text => text)`. */
export async function withHost(use) {
  const changes = new Map();
  let answering = true;
  const server = createServer(async (request, response) => {
    if (!answering) return request.socket.destroy();
    const path = request.url.replace(/^\//, "").split("?")[0];
    const from = await fetch(new URL(path, siteUrl));
    let body = Buffer.from(await from.arrayBuffer());
    const change = changes.get(path || "index.html");
    if (change) body = Buffer.from(change(body.toString()));
    const headers = { "content-type": from.headers.get("content-type") ?? "text/plain", "cache-control": "no-cache" };
    response.writeHead(from.status, headers).end(body);
  });
  await new Promise((done) => server.listen(0, "127.0.0.1", done));
  try {
    await use({
      url: `http://127.0.0.1:${server.address().port}/`,
      off() {
        answering = false;
        server.closeAllConnections();
      },
      on() {
        answering = true;
      },
      change: (name, how) => changes.set(name, how),
    });
  } finally {
    server.closeAllConnections();
    await new Promise((done) => server.close(done));
  }
}
