/**
 * Those the shop tells: a mail server and a host shop on this machine, which take nothing in while the plan says
 * so, and count what arrives under each id.
 */
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { SMTPServer } from "smtp-server";
import { Webhook } from "standardwebhooks";
import type { Chance } from "#core/order/room/sequence.ts";
import type { Injected } from "./explain.ts";
import { type FaultKind, type FaultSpan, isOn } from "./fault-plan.ts";

const REFUSED_PART = 0.5;
/** A host shop that is down is silent for this long before it hangs up [ms] */
const SILENT_MS = 3000;

export interface Readers {
  readonly mailUrl: string;
  readonly eventsUrl: string;
  /** How often each message arrived, by its id. */
  readonly arrived: ReadonlyMap<string, number>;
}

interface Told {
  readonly plan: () => readonly FaultSpan[];
  readonly injected: Injected[];
  readonly chance: Chance;
  readonly eventSecret: string;
}

export async function startReaders(told: Told): Promise<Readers> {
  const arrived = new Map<string, number>();
  const came = (id: string) => void arrived.set(id, (arrived.get(id) ?? 0) + 1);
  const isOut = (kind: FaultKind, part: number) => {
    if (!isOn(told.plan(), kind) || told.chance() >= part) return false;
    const now = Date.now();
    told.injected.push({ kind, from: now, to: now });
    return true;
  };
  const [mailUrl, eventsUrl] = await Promise.all([
    startMail(() => isOut("mail-refused", REFUSED_PART), told.chance, came),
    startHostShop(() => isOut("host-shop-down", 1), told.chance, came, told.eventSecret),
  ]);
  return { mailUrl, eventsUrl, arrived };
}

async function startMail(
  isOut: () => boolean,
  chance: Chance,
  came: (id: string) => void,
): Promise<string> {
  const later = Object.assign(new Error("come back later"), { responseCode: 451 });
  const full = Object.assign(new Error("too many at once"), { responseCode: 421 });
  const server = new SMTPServer({
    ...{ authOptional: true, hideSTARTTLS: true, logger: false, disableReverseLookup: true },
    onConnect: (_session, done) => (chance() < 0.5 && isOut() ? done(full) : done()),
    onData: (stream, _session, done) => {
      const chunks: Buffer[] = [];
      stream.on("data", (chunk: Buffer) => chunks.push(chunk));
      stream.on("end", () => {
        if (isOut()) return done(later);
        // A long id stands on a line of its own (RFC 5322 section 2.2.3).
        const id = /^Message-ID:\s*<(.+?)@/im.exec(Buffer.concat(chunks).toString("latin1"))?.[1];
        came(id ?? "a mail without an id");
        done();
      });
    },
  });
  // Connections that the shop breaks off.
  server.on("error", () => undefined);
  await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
  const { port } = server.server.address() as AddressInfo;
  return `smtp://127.0.0.1:${port}`;
}

async function startHostShop(
  isOut: () => boolean,
  chance: Chance,
  came: (id: string) => void,
  secret: string,
): Promise<string> {
  const webhook = new Webhook(secret);
  const server = createServer((request, response) => {
    const chunks: Buffer[] = [];
    request.on("data", (chunk: Buffer) => chunks.push(chunk));
    request.on("end", () => {
      if (isOut()) {
        if (chance() < 0.5) response.writeHead(503).end();
        else setTimeout(() => response.destroy(), SILENT_MS * chance());
        return;
      }
      const [id, at, signature] = ["id", "timestamp", "signature"].map((name) =>
        String(request.headers[`webhook-${name}`]),
      );
      // `verify` of the library would refuse what is told later by another clock.
      const signed = webhook.sign(
        id!,
        new Date(Number(at) * 1000),
        Buffer.concat(chunks).toString(),
      );
      if (signed === signature) came(id!);
      response.writeHead(signed === signature ? 204 : 400).end();
    });
  });
  await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
  const { port } = server.address() as AddressInfo;
  return `http://127.0.0.1:${port}/events`;
}
