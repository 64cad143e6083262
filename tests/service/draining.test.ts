import { once } from "node:events";
import { type AddressInfo, connect } from "node:net";
import { createServer } from "node:http";
import { describe, expect, it } from "vitest";
import { drainable } from "#service/draining.ts";

async function aServer(answerAfterMs: number) {
  let arrive: () => void;
  const asked = new Promise<void>((resolve) => (arrive = resolve));
  const server = createServer((_request, response) => {
    arrive();
    setTimeout(() => response.end("whole"), answerAfterMs);
  });
  const stop = drainable(server);
  server.listen(0, "127.0.0.1");
  await once(server, "listening");
  const { port } = server.address() as AddressInfo;
  return { stop, port, asked, url: `http://127.0.0.1:${port}/` };
}

describe("a server that is stopped", () => {
  it("lets an answer under way come to its end, and takes nothing new", async () => {
    const { stop, url, asked } = await aServer(150);
    const answer = fetch(url);
    await asked;
    const stopped = stop();
    expect(await (await answer).text()).toBe("whole");
    await stopped;
    await expect(fetch(url)).rejects.toThrow();
  });

  it("does not wait for a connection that nothing was asked on, nor for one kept alive", async () => {
    const { stop, url, port } = await aServer(0);
    const silent = connect(port, "127.0.0.1");
    await once(silent, "connect");
    expect(await (await fetch(url)).text()).toBe("whole");
    const began = performance.now();
    await stop();
    expect(performance.now() - began).toBeLessThan(2000);
  });
});
