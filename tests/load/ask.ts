/**
 * Requests as customers' programs send them: over connections that are kept, timed from when they were meant to go out,
 * now and then broken off, and sent once more where the connection was closed between two requests.
 */
import { Agent, type IncomingHttpHeaders, type IncomingMessage, request } from "node:http";
import { text } from "node:stream/consumers";
import type { Chance } from "#core/order/room/sequence.ts";
import { type FaultSpan, isCalm, isOn } from "./fault-plan.ts";
import type { Tally } from "./tally.ts";

/** Connections at once; who comes later waits, and the wait is counted. */
const CONNECTIONS_MOST = 1024;
/** Longer than the shop may ever take [ms] */
const PATIENCE_MS = 60_000;
/** While requests are broken off, this part of them is. */
const ABORTED_PART = 1 / 8;
/** They are broken off within this time, so before, in the middle of and after their work [ms] */
const ABORTED_WITHIN_MS = 12;

export interface Asked {
  /** What it is counted as. */
  readonly kind: string;
  readonly method?: "GET" | "POST";
  readonly path: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly json?: unknown;
  readonly form?: readonly (readonly [name: string, value: string])[];
  /** Statuses from 400 on that are no error here. */
  readonly allowed?: readonly number[];
  /** Asked again it does the same, so that it may be broken off. */
  readonly mayBreak?: boolean;
}

export interface Answered {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly text: string;
}

/** The shop answered with an error, which is counted already. */
export class NotAnswered extends Error {}

/** A visit of one client; its first request was meant to go out when the visit was. */
export interface Visitor {
  ask(asked: Asked): Promise<Answered>;
}

export class Asker {
  readonly #agent = new Agent({ keepAlive: true, maxSockets: CONNECTIONS_MOST });
  readonly #base: URL;
  readonly #tally: Tally;
  readonly #chance: Chance;
  plan: readonly FaultSpan[] = [];

  constructor(url: string, tally: Tally, chance: Chance) {
    this.#base = new URL(url);
    this.#tally = tally;
    this.#chance = chance;
  }

  /** @param meantAt moment the visit was meant to begin [ms since 1970] */
  visitor(meantAt: number): Visitor {
    let next: number | undefined = meantAt;
    return {
      ask: async (asked) => {
        const from = next ?? Date.now();
        next = undefined;
        return await this.#ask(asked, from);
      },
    };
  }

  close(): void {
    this.#agent.destroy();
  }

  async #ask(asked: Asked, from: number): Promise<Answered> {
    const { kind, allowed = [] } = asked;
    const breaks =
      asked.mayBreak === true &&
      isOn(this.plan, "requests-aborted") &&
      this.#chance() < ABORTED_PART;
    if (breaks) {
      // The customer has gone on to press again: what is timed is the second try.
      await this.#send(asked, this.#chance() * ABORTED_WITHIN_MS).catch(() => {
        this.#tally.aborted += 1;
      });
      return await this.#ask({ ...asked, mayBreak: false }, Date.now());
    }
    let answered: Answered;
    try {
      answered = await this.#sendAgain(asked);
    } catch (error) {
      const code = (error as NodeJS.ErrnoException).code ?? (error as Error).message;
      this.#tally.failed({ kind, code: `no answer: ${code}`, from, to: Date.now() });
      throw new NotAnswered(`${kind}: ${code}`, { cause: error });
    }
    const to = Date.now();
    this.#tally.answered(kind, from, to - from, isCalm(this.plan, from));
    if (answered.status < 400 || allowed.includes(answered.status)) return answered;
    const code = codeOf(answered);
    this.#tally.failed({ kind, code, from, to });
    throw new NotAnswered(`${kind}: ${code}`);
  }

  async #sendAgain(asked: Asked): Promise<Answered> {
    try {
      return await this.#send(asked);
    } catch (error) {
      if (!(error instanceof ClosedMeanwhile)) throw error;
      this.#tally.sentAgain += 1;
      return await this.#send(asked);
    }
  }

  #send(asked: Asked, breakAfterMs?: number): Promise<Answered> {
    const { method = asked.json || asked.form ? "POST" : "GET", path } = asked;
    const body = bodyOf(asked);
    const headers = {
      "sec-fetch-site": "same-origin",
      ...(body === undefined ? {} : { "content-length": String(Buffer.byteLength(body.text)) }),
      ...(body === undefined ? {} : { "content-type": body.type }),
      ...asked.headers,
    };
    return new Promise((resolve, reject) => {
      const { hostname, port } = this.#base;
      const sent = request({ agent: this.#agent, hostname, port, path, method, headers });
      sent.setTimeout(PATIENCE_MS, () => sent.destroy(new Error("out of patience")));
      sent.once("error", (error: NodeJS.ErrnoException) => {
        const isClosed = sent.reusedSocket && error.code === "ECONNRESET";
        reject(isClosed && breakAfterMs === undefined ? new ClosedMeanwhile() : error);
      });
      sent.once("response", (response) => readAll(response).then(resolve, reject));
      sent.end(body?.text);
      if (breakAfterMs === undefined) return;
      const leaving = setTimeout(() => sent.destroy(new Error("left")), breakAfterMs);
      // A connection that is done with may be somebody else's by then.
      sent.once("close", () => clearTimeout(leaving));
    });
  }
}

/** The shop closed a kept connection while the request was on its way, as it may (RFC 9112 section 9.5). */
class ClosedMeanwhile extends Error {}

interface Body {
  readonly text: string;
  readonly type: string;
}

function bodyOf({ json, form }: Asked): Body | undefined {
  if (json !== undefined) {
    const text = typeof json === "string" ? json : JSON.stringify(json);
    return { text, type: "application/json" };
  }
  if (!form) return undefined;
  const text = new URLSearchParams(form.map(([name, value]) => [name, value])).toString();
  return { text, type: "application/x-www-form-urlencoded" };
}

async function readAll(response: IncomingMessage): Promise<Answered> {
  const { statusCode: status, headers } = response;
  return { status: status!, headers, text: await text(response) };
}

function codeOf({ status, headers, text }: Answered): string {
  const isProblem = headers["content-type"]?.startsWith("application/problem+json");
  return isProblem ? (JSON.parse(text) as { code: string }).code : `page ${status}`;
}
