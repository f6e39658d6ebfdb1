// A host of the site that a test can switch off, and whose files it can change.
import { createServer } from "node:http";
import { siteUrl } from "./browser.mjs";

/**
 * Runs `use(host)`: `host.url`, `host.off()`, `host.on()`, `host.change(name, text => text)`, and `host.forget(type)`, after
 * which files of that type are served as any bytes.
 */
export async function withHost(use) {
  const changes = new Map();
  let answering = true;
  let unknown = "";
  const server = createServer(async (request, response) => {
    if (!answering) return request.socket.destroy();
    const path = request.url.replace(/^\//, "").split("?")[0];
    const from = await fetch(new URL(path, siteUrl));
    let body = Buffer.from(await from.arrayBuffer());
    const change = changes.get(path || "index.html");
    if (change) body = Buffer.from(change(body.toString()));
    const told = from.headers.get("content-type") ?? "text/plain";
    const type = told === unknown ? "application/octet-stream" : told;
    const headers = { "content-type": type, "cache-control": "no-cache" };
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
      forget(type) {
        unknown = type;
      },
      change: (name, how) => changes.set(name, how),
    });
  } finally {
    server.closeAllConnections();
    await new Promise((done) => server.close(done));
  }
}
