/**
 * Clients that hold a connection and hurry not at all: one sends its request byte by byte, one reads its page a little
 * at a time, one connects and says nothing. The first two are answered like anybody; the last is nobody's loss.
 */
import { connect } from "node:net";
import { setTimeout as wait } from "node:timers/promises";
import type { Chance } from "#core/order/room/sequence.ts";
import type { Tally } from "./tally.ts";

/** Of each kind at once. */
const AT_ONCE = 8;
const BYTE_EVERY_MS = 25;
const READ_EVERY_MS = 40;
const BETWEEN_MS = 200;

/** Keep slow clients coming while it lasts. @param isOver asked before each new one */
export async function beSlow(
  url: string,
  tally: Tally,
  chance: Chance,
  isOver: () => boolean,
): Promise<void> {
  const again = async (kind: string, one: () => Promise<string>) => {
    while (!isOver()) {
      const from = Date.now();
      try {
        const answer = await one();
        const isGood = answer.startsWith("HTTP/1.1 200");
        if (isGood) tally.answered(kind, from, Date.now() - from, false);
        else tally.failed({ kind, code: answer.slice(0, 12), from, to: Date.now() });
      } catch (error) {
        tally.failed({ kind, code: String(error), from, to: Date.now() });
      }
      await wait(BETWEEN_MS * chance());
    }
  };
  const each = Array.from({ length: AT_ONCE });
  await Promise.all([
    ...each.map(() => again("slow to send", () => sendSlowly(url))),
    ...each.map(() => again("slow to read", () => readSlowly(url))),
    ...each.map(() => sayNothing(url, isOver)),
  ]);
}

const REQUEST = (host: string, path: string) =>
  `GET ${path} HTTP/1.1\r\nhost: ${host}\r\naccept: text/html\r\nconnection: close\r\n\r\n`;

async function sendSlowly(url: string): Promise<string> {
  const { socket, ended } = open(url);
  for (const sign of REQUEST(new URL(url).host, "/")) {
    socket.write(sign);
    await wait(BYTE_EVERY_MS);
  }
  socket.resume();
  return await ended;
}

async function readSlowly(url: string): Promise<string> {
  const { socket, ended } = open(url);
  socket.write(REQUEST(new URL(url).host, "/assets/softset.js"));
  socket.on("data", () => {
    socket.pause();
    setTimeout(() => socket.resume(), READ_EVERY_MS);
  });
  return await ended;
}

async function sayNothing(url: string, isOver: () => boolean): Promise<void> {
  const { socket, ended } = open(url);
  ended.catch(() => undefined);
  socket.resume();
  while (!isOver()) await wait(BETWEEN_MS);
  socket.destroy();
}

function open(url: string) {
  const { hostname, port } = new URL(url);
  const socket = connect(Number(port), hostname);
  let answer = "";
  socket.on("data", (chunk) => {
    if (answer.length < 64) answer += chunk.toString("latin1");
  });
  const ended = new Promise<string>((resolve, reject) => {
    socket.once("error", reject);
    socket.once("close", () => resolve(answer));
  });
  return { socket, ended };
}
