/**
 * Scripts, style sheets and fonts.
 */
import { Hono } from "hono";
import { etag } from "hono/etag";
import type { Ports } from "../ports.ts";
import { Refusal } from "../problem.ts";

/** The only kinds of file that are handed out. */
const TYPES: Readonly<Record<string, string>> = {
  js: "text/javascript; charset=utf-8",
  css: "text/css; charset=utf-8",
  woff2: "font/woff2",
  svg: "image/svg+xml; charset=utf-8",
};

export function assetRoutes({ asset }: Pick<Ports, "asset">) {
  return new Hono().get("/:name", etag(), async (c) => {
    const name = c.req.param("name");
    const type = TYPES[name.slice(name.lastIndexOf(".") + 1)];
    const body = type && (await asset(name));
    if (!type || !body) throw new Refusal("request.route.unknown", "There is no such file.");
    return c.body(body, 200, {
      "content-type": type,
      // The address stays the same over versions, so it is asked again soon, but shown at once.
      "cache-control": "public, max-age=300, stale-while-revalidate=86400",
      "x-content-type-options": "nosniff",
      // The storefront script is meant for pages of other shops.
      "cross-origin-resource-policy": "cross-origin",
      "access-control-allow-origin": "*",
    });
  });
}
