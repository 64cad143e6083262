/**
 * The stand-in for Stripe's API behind a real HTTP server, with faults on demand.
 */
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { text } from "node:stream/consumers";
import qs from "qs";
import { type Fault, isCarriedOut, respond } from "./stripe-answers.ts";
import { SERVER_KEY, makeStripeStandIn } from "./stripe-stand-in.ts";

export { type KeptEvent, SERVER_KEY } from "./stripe-stand-in.ts";

export async function startStripeServer({ latencyMs = 0 }: { readonly latencyMs?: number } = {}) {
  const standIn = makeStripeStandIn({ latencyMs });
  const faults: Fault[] = [];

  const server = createServer((incoming, response) => {
    void (async () => {
      const raw = await text(incoming);
      const { method = "", url: path = "", headers } = incoming;
      const request = { method, path, headers };
      const next = faults.shift();
      const fault = next === "none" ? undefined : next;
      if (fault && !isCarriedOut(fault)) {
        standIn.seen.push({ ...request, form: qs.parse(raw, { depth: 20 }) });
      }
      await respond(response, fault, () => standIn.answer(request, raw, fault));
    })();
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));

  return {
    ...standIn,
    settings: {
      secretKey: SERVER_KEY,
      host: "127.0.0.1",
      port: (server.address() as AddressInfo).port,
      protocol: "http",
    } as const,
    /** Meet the next requests with these faults, one each. */
    failNext: (...next: readonly Fault[]) => void faults.push(...next),
    async close() {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}

export type StripeServer = Awaited<ReturnType<typeof startStripeServer>>;
