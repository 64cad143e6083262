/**
 * What one client may ask for in a minute: sign-ins, quotes, orders, and searches that take the machine's time. The two
 * entries count each in their own way; here stands what is counted and how a request over it is refused.
 */
import type { Context, MiddlewareHandler } from "hono";
import { Refusal } from "../problem.ts";

/**
 * Requests a minute and client; own choice. Generous to people behind one address, and far below what a guess at a
 * sign-in or a full machine needs.
 */
export const LIMITS = { "sign-in": 20, search: 120, quote: 120, order: 30 } as const;
export type Limited = keyof typeof LIMITS;

const ROUTES: readonly (readonly [Limited, RegExp])[] = [
  ["sign-in", /^\/maker\/enter\//],
  ["search", /^\/v1\/(nearest|wishes)$/],
  ["quote", /^(\/v1\/quotes|\/shop\/[^/]+\/quote)$/],
  ["order", /^(\/v1\/orders|\/shop\/[^/]+\/quote\/[^/]+\/order)$/],
];

export interface Limiter {
  /** Whose request it is; nothing for whoever is not counted, as this machine itself. */
  clientOf(c: Context): string | undefined;
  /** Count one request. @returns seconds until one more is let through; 0 when this one is */
  take(kind: Limited, client: string): Promise<number>;
}

/** Refuses what a client asks for too often. @throws Refusal request.rate.exceeded */
export function limitRequests({ clientOf, take }: Limiter): MiddlewareHandler {
  return async (c, next) => {
    const kind = limitedKind(c);
    const client = kind && clientOf(c);
    const waitS = kind && client ? await take(kind, client) : 0;
    if (waitS > 0) {
      throw new Refusal(
        "request.rate.exceeded",
        `Too many such requests came from your address. Nothing was changed; please try again in ${waitS} s.`,
        { retryAfterS: waitS },
      );
    }
    await next();
  };
}

/** A key is trusted with as many orders as it likes: the maker who gave it can take it back. */
function limitedKind(c: Context): Limited | undefined {
  if (c.req.method !== "POST") return undefined;
  const kind = ROUTES.find(([, path]) => path.test(c.req.path))?.[0];
  return kind === "order" && c.req.header("authorization") !== undefined ? undefined : kind;
}
