/**
 * What can be told of a request without telling whose it was: its route as the code has it, never the address, because
 * the links to an order or into the maker's side open whatever they name.
 */
import type { MiddlewareHandler } from "hono";
import { routePath } from "hono/route";

export interface Answered {
  /** The request's id, as a problem document names it. */
  readonly request: string;
  readonly method: string;
  /** Such as /v1/orders/:order/:token; "/*" where there is nothing. */
  readonly route: string;
  readonly status: number;
  readonly ms: number;
}

/** Tells of every answer. @param clock milliseconds that only go forward */
export function watchRequests(
  tell: (answered: Answered) => void,
  clock: () => number = () => performance.now(),
): MiddlewareHandler {
  return async (c, next) => {
    const began = clock();
    await next();
    const ms = Math.round((clock() - began) * 10) / 10;
    const request = String(c.get("requestId") ?? "");
    // After the answer this is the route that gave it.
    tell({ request, method: c.req.method, route: routePath(c), status: c.res.status, ms });
  };
}
