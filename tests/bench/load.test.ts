/** The load and the bare servers, each a process: what is told of a run is what happened in it. */
import { type AddressInfo } from "node:net";
import { createServer } from "node:http";
import { afterAll, expect, it } from "vitest";
import { load, startBare } from "./processes.ts";

const stops: (() => unknown)[] = [];
afterAll(() => Promise.all(stops.map((stop) => stop())));

it.each(["hono", "node"] as const)(
  "bare %s answers as many bytes as it is asked for",
  async (kind) => {
    const bare = await startBare(kind);
    stops.push(() => bare.stop());
    const got = await fetch(`${bare.url}/bytes/1234`);
    expect((await got.arrayBuffer()).byteLength).toBe(1234);
    const sent = await fetch(`${bare.url}/bytes/99`, { method: "POST", body: '{"a":1}' });
    expect((await sent.arrayBuffer()).byteLength).toBe(99);
  },
);

it("sends each body once and counts what was not answered well", async () => {
  const heard: string[] = [];
  const server = createServer((asked, answer) => {
    let body = "";
    asked.on("data", (piece) => (body += String(piece)));
    asked.on("end", () => {
      heard.push(body);
      answer.writeHead(body === "news 3" ? 500 : 200).end();
    });
  }).listen(0, "127.0.0.1");
  stops.push(() => server.close());
  await new Promise((resolve) => server.once("listening", resolve));
  const url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  const bodies = Array.from({ length: 30 }, (_, at) => `body ${at}`);
  const crowd = {
    ...({ kind: "crowd", url, method: "POST", headers: {}, bodies } as const),
    ...{ connections: 4, seconds: 0, warmUpSeconds: 0 },
  };
  expect((await load(crowd)).count).toBe(30);
  expect(heard.sort()).toEqual([...bodies].sort());

  heard.length = 0;
  const news = bodies.map((_, at) => `news ${at}`);
  const requests = news.map((body) => ({ body }));
  const atMs = bodies.map((_, at) => at * 5);
  const arrivals = { kind: "arrivals", url, method: "POST", requests, atMs } as const;
  await expect(load(arrivals)).rejects.toThrow("1 of 30 answers were not good");
  expect(heard.sort()).toEqual(news.sort());
});
