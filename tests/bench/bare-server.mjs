/**
 * What this machine can answer at most: `node:http` by itself, or Hono by itself as the service uses it. `/bytes/N`
 * answers N bytes that were ready before; a POST reads its JSON first.
 */
import { serve } from "@hono/node-server";
import { Hono } from "hono";
import { createServer } from "node:http";

const JSON_KIND = "application/json; charset=utf-8";
const HTML_KIND = "text/html; charset=utf-8";

process.once("message", ({ kind }) => {
  const tell = (port) => process.send({ url: `http://127.0.0.1:${port}` });
  if (kind === "hono") {
    serve({ fetch: bareHono().fetch, hostname: "127.0.0.1", port: 0 }, ({ port }) => tell(port));
  } else {
    const server = createServer(bareNode).listen(0, "127.0.0.1", () => tell(server.address().port));
  }
});

const texts = new Map();

function textOf(bytes) {
  let text = texts.get(bytes);
  if (text === undefined) texts.set(bytes, (text = "x".repeat(bytes)));
  return text;
}

function bareHono() {
  return new Hono()
    .get("/bytes/:count", (c) => c.html(textOf(Number(c.req.param("count")))))
    .post("/bytes/:count", async (c) => {
      await c.req.json();
      const headers = { "content-type": JSON_KIND };
      return c.body(textOf(Number(c.req.param("count"))), 200, headers);
    });
}

function bareNode(asked, answer) {
  const text = textOf(Number(asked.url.slice("/bytes/".length)));
  const send = (kind) => {
    answer.writeHead(200, { "content-type": kind, "content-length": text.length });
    answer.end(text);
  };
  if (asked.method === "GET") return send(HTML_KIND);
  let body = "";
  asked.setEncoding("utf8");
  asked.on("data", (piece) => (body += piece));
  asked.on("end", () => {
    JSON.parse(body);
    send(JSON_KIND);
  });
}
