/**
 * The API's description, and the same as a page to read.
 */
import { Hono } from "hono";
import { pageHeaders } from "../middleware.ts";
import { apiReferencePage } from "../pages/api-reference.ts";
import { renderPage } from "../pages/render.ts";
import { type Description, describeApi } from "../plugin/openapi.ts";
import type { Shop } from "../ports.ts";

/** It changes with a new version of the program alone. */
const KEEP = "public, max-age=3600";

export function openApiRoutes(shop: Shop) {
  let made: Description | undefined;
  const description = () => (made ??= describeApi(shop.url));
  return new Hono()
    .get("/openapi.json", (c) => c.json(description(), 200, { "cache-control": KEEP }))
    .get("/", pageHeaders, async (c) => {
      const owner = await shop.shops.first();
      const model = apiReferencePage(description(), { url: shop.url, shop: owner?.name ?? "Shop" });
      return c.html(renderPage("api-reference", model));
    });
}
