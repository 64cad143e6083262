/**
 * The payment service as the shop meets it under load: the stand-in for Stripe over HTTP, which fails as planned and
 * notes each failure, and the payment page, which takes the money and says so.
 */
import { type IncomingMessage, type ServerResponse, createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { text } from "node:stream/consumers";
import type { Chance } from "#core/order/room/sequence.ts";
import { signEvent } from "../helpers/sign-event.ts";
import { type Fault, respond, send, success } from "../helpers/stripe-answers.ts";
import { makeStripeStandIn } from "../helpers/stripe-stand-in.ts";
import type { Injected } from "./explain.ts";
import { type FaultKind, type FaultSpan, isOn } from "./fault-plan.ts";

const ERRORS: readonly Fault[] = [
  ...(["500", "500", "html-502", "drop-before", "drop-after"] as const),
  ...(["sever-after", "cut-after", "429", "500-kept"] as const),
];
const SILENCES: readonly Fault[] = ["hang-before", "hang-after"];
const ERRORS_PART = 0.5;
const SILENT_PART = 0.75;

interface Told {
  readonly plan: () => readonly FaultSpan[];
  readonly injected: Injected[];
  readonly chance: Chance;
}

interface KeptNews {
  readonly event: { readonly id: string; readonly created: number } & Record<string, unknown>;
  isDelivered: boolean;
}

/** @param webhookSecret the shop's and ours */
export async function startPayments(webhookSecret: string, told: Told) {
  const standIn = makeStripeStandIn();
  const news = new Map<string, KeptNews>();

  async function takeMoney(session: string) {
    standIn.markPaid(session);
    const type = "checkout.session.completed";
    const about = standIn.sessions.get(session)!.toJson(false);
    const id = newsId(session);
    const signed = await signEvent({ id, type, about }, webhookSecret);
    const event = JSON.parse(signed.payload) as KeptNews["event"];
    const created = Math.floor(Date.now() / 1000);
    news.set(id, { event: { ...event, created }, isDelivered: false });
    return signed;
  }

  /** News that never arrived, and one that is asked for; the stand-in's own list is made for few. */
  function newsAt({ pathname, searchParams }: URL) {
    const one = /^\/v1\/events\/(\w+)$/.exec(pathname)?.[1];
    const known = news.get(one ?? "");
    if (one) return known ? success(known.event) : undefined;
    if (pathname !== "/v1/events") return undefined;
    const from = Number(searchParams.get("created[gte]") ?? 0);
    const data = [...news.values()]
      .filter(({ isDelivered, event }) => !isDelivered && event.created >= from)
      .map(({ event }) => event)
      .reverse();
    return success({ object: "list", url: "/v1/events", has_more: false, data });
  }

  function drawFault(): Fault | undefined {
    const { chance } = told;
    const on = (kind: FaultKind, part: number, faults: readonly Fault[]) => {
      if (!isOn(told.plan(), kind) || chance() >= part) return undefined;
      const now = Date.now();
      told.injected.push({ kind, from: now, to: now });
      return faults[Math.floor(chance() * faults.length)];
    };
    return on("till-errors", ERRORS_PART, ERRORS) ?? on("till-silent", SILENT_PART, SILENCES);
  }

  async function answer(incoming: IncomingMessage, response: ServerResponse): Promise<void> {
    const raw = await text(incoming);
    const { method = "", url: path = "", headers } = incoming;
    const page = /^\/pay\/(\w+)$/.exec(path)?.[1];
    if (page) return send(response, success(await takeMoney(page)));
    const heard = /^\/heard\/(\w+)$/.exec(path)?.[1];
    if (heard) {
      news.get(newsId(heard))!.isDelivered = true;
      return send(response, success({}));
    }
    const fault = drawFault();
    await respond(response, fault, async () => {
      const listed = method === "GET" ? newsAt(new URL(path, "http://stand-in")) : undefined;
      const answered = listed ?? (await standIn.answer({ method, path, headers }, raw, fault));
      standIn.seen.length = 0;
      return answered;
    });
  }

  const server = createServer((incoming, response) => {
    answer(incoming, response).catch((error: unknown) => {
      console.error(error);
      response.destroy();
    });
  });
  await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
  const { port } = server.address() as AddressInfo;
  return {
    url: `http://127.0.0.1:${port}`,
    /** Sessions that money was taken for, by the order they name. */
    paidOrders: () =>
      [...standIn.sessions.values()].filter(({ isPaid }) => isPaid).map((each) => orderOf(each)),
  };
}

function newsId(session: string): string {
  return `evt_${session.slice("cs_test_".length)}`;
}

function orderOf(record: { toJson(expand: boolean): Record<string, unknown> }): string {
  return String(record.toJson(false)["client_reference_id"]);
}
