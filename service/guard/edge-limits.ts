/**
 * Limits at the edge, counted by the network: `wrangler.toml` binds one counter for each kind. A kind without a counter
 * is not limited here, for shops that leave it to rules of their network.
 */
import { clientAddress } from "./client-address.ts";
import type { Limited, Limiter } from "./limits.ts";

/** Binding by kind. */
export const COUNTERS: Readonly<Record<Limited, string>> = {
  "sign-in": "SIGN_INS",
  search: "SEARCHES",
  quote: "QUOTES",
  order: "ORDERS",
};

interface Counter {
  limit(asked: { readonly key: string }): Promise<{ readonly success: boolean }>;
}

/** The counter says yes or no and counts by the minute, so a minute is what there is to wait [s] */
const WAIT_S = 60;

/** @param host the shop’s name where several share the counters, so that none counts for another */
export function edgeLimits(env: Readonly<Record<string, unknown>>, host = ""): Limiter {
  return {
    clientOf: (c) => clientAddress(c.req.header("cf-connecting-ip")),
    take: async (kind, client) => {
      const counter = env[COUNTERS[kind]] as Counter | undefined;
      if (!counter) return 0;
      return (await counter.limit({ key: `${host} ${client}`.trim() })).success ? 0 : WAIT_S;
    },
  };
}
