/**
 * A product on the whole: what stands in the way, its versions, on sale and off, put away and back, publishing.
 */
import { wholeIn } from "../../typed/form-carried.ts";
import { textOf } from "../../typed/text.ts";
import { readForm } from "../../middleware.ts";
import { Hono } from "hono";
import { overviewPage, publishPage, versionPage } from "../../pages/maker-product-versions.ts";
import { productHref } from "../../pages/maker-product.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import type { Desks } from "../../products/desk.ts";
import { openVersion } from "../../products/open-product.ts";
import { publishDraft } from "../../products/publish.ts";
import type { Rooms } from "../../products/rooms.ts";
import { Conflict } from "../../storage/database.ts";
import { authorOf, productOf, productPage } from "./product-page.ts";
import type { Signed, SignedContext } from "./visit.ts";

const VERSIONS_SHOWN = 50;

export function versionRoutes(shop: Shop, desks: Desks, rooms: Rooms) {
  async function showOverview(c: SignedContext, notice = "") {
    const open = await productOf(shop, desks, c);
    const before = Number(c.req.query("before") ?? Number.MAX_SAFE_INTEGER);
    const versions = await shop.products.versions(open.row.id, VERSIONS_SHOWN + 1, before);
    const model = { ...overviewPage(open, versions, VERSIONS_SHOWN), notice };
    return await productPage(shop, c, open, ["maker-product", "overview"], model);
  }

  async function showPublish(c: SignedContext, more: object = {}) {
    const open = await productOf(shop, desks, c);
    const [latest] = await shop.products.versions(open.row.id, 1);
    const shut = open.obstacles.length > 0 ? [] : rooms.year(open);
    const known = { report: rooms.known(open), shut };
    const model = publishPage(open, (latest?.version ?? 0) + 1, known);
    return await productPage(shop, c, open, ["maker-product-publish", "publish"], {
      ...model,
      ...more,
    });
  }

  /** Put a version on sale or take the product off; what changed meanwhile is told. */
  async function sell(c: SignedContext, version: number | null) {
    const [shopId, id] = [c.get("shopId"), c.req.param("id") ?? ""];
    if (version !== null) await openVersion(shop, shopId, id, version);
    const from = textOf(await readForm(c), "from");
    try {
      await shop.products.sell(shopId, id, from === "" ? null : Number(from), version);
    } catch (error) {
      if (!(error instanceof Conflict)) throw error;
      return c.html(await showOverview(c, MOVED), 409);
    }
    return c.redirect(`${productHref(id)}?sale=1`, 303);
  }

  async function setAway(c: SignedContext, at: number | null) {
    const { row } = await productOf(shop, desks, c);
    await shop.products.putAway(c.get("shopId"), row.id, at);
    const id = encodeURIComponent(row.id);
    return c.redirect(at === null ? productHref(row.id) : `/maker/products?away=${id}`, 303);
  }

  return new Hono<Signed>()
    .get("/:id", async (c) =>
      c.html(await showOverview(c, NOTICES[Object.keys(c.req.query())[0] ?? ""] ?? "")),
    )
    .get("/:id/versions/:version", async (c) => {
      const open = await productOf(shop, desks, c);
      const number = Number(c.req.param("version"));
      const version = await openVersion(shop, c.get("shopId"), open.row.id, number);
      const [listed] = await shop.products.versions(open.row.id, 1, number + 1);
      const model = versionPage(open, number, version, listed?.by ?? "");
      const page = ["maker-product-version", "overview", `Version ${number}`] as const;
      return c.html(await productPage(shop, c, open, page, model));
    })
    .post("/:id/versions/:version/sell", (c) => sell(c, Number(c.req.param("version"))))
    .post("/:id/withdraw", (c) => sell(c, null))
    .post("/:id/put-away", (c) => setAway(c, shop.clock.seconds()))
    .post("/:id/put-back", (c) => setAway(c, null))
    .get("/:id/publish", async (c) => c.html(await showPublish(c)))
    .post("/:id/publish", async (c) => {
      const form = await readForm(c);
      const ticked = textOf(form, "ticked");
      const [since, version] = [wholeIn(form, "revision"), wholeIn(form, "version")];
      const open = await productOf(shop, desks, c);
      if (open.row.archivedAt !== null) {
        throw new Refusal("compose.draft.not-ready", "It is put away. Put it back first.");
      }
      const done = await publishDraft(
        ...([shop, rooms, open, { since, version, ticked }, authorOf(c)] as const),
      );
      if ("version" in done) return c.redirect(`${productHref(open.row.id)}?published=1`, 303);
      if ("late" in done) return c.html(await showPublish(c, { notice: MOVED }), 409);
      if ("shut" in done) {
        const sentence = "Tick that you know in which months it cannot be ordered.";
        return c.html(await showPublish(c, { faults: [{ field: "ticked", sentence }] }), 422);
      }
      const refused = publishPage(
        open,
        0,
        { report: undefined, shut: [] },
        done.obstacles,
      ).obstacles;
      return c.html(await showPublish(c, { obstacles: refused }), 422);
    });
}

const MOVED =
  "Somebody saved or published meanwhile, so nothing was changed now. This is how it stands.";

const NOTICES: Readonly<Record<string, string>> = {
  published: "Published. Customers see it now.",
  sale: "Done. The shop shows it so from now on.",
};
