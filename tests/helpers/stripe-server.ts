/**
 * The stand-in for Stripe's API behind a real HTTP server, with faults on demand.
 */
import { createServer, type IncomingMessage } from "node:http";
import type { AddressInfo } from "node:net";
import qs from "qs";
import { type Fault, answerFault, send } from "./stripe-answers.ts";
import { SERVER_KEY, makeStripeStandIn } from "./stripe-stand-in.ts";

export { type KeptEvent, SERVER_KEY } from "./stripe-stand-in.ts";

export async function startStripeServer({ latencyMs = 0 }: { readonly latencyMs?: number } = {}) {
  const standIn = makeStripeStandIn({ latencyMs });
  const faults: Fault[] = [];

  const server = createServer((incoming, response) => {
    void (async () => {
      const raw = await readBody(incoming);
      const { method = "", url: path = "", headers } = incoming;
      const request = { method, path, headers };
      const next = faults.shift();
      const fault = next === "none" ? undefined : next;
      if (fault && !fault.endsWith("-after") && fault !== "500-kept") {
        standIn.seen.push({ ...request, form: qs.parse(raw, { depth: 20 }) });
        return answerFault(fault, response);
      }
      const answer = await standIn.answer(request, raw, fault);
      if (fault && fault !== "500-kept") answerFault(fault, response, answer.body);
      else send(response, answer);
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

async function readBody(incoming: IncomingMessage): Promise<string> {
  const chunks: Buffer[] = [];
  for await (const chunk of incoming) chunks.push(chunk as Buffer);
  return Buffer.concat(chunks).toString("utf8");
}
