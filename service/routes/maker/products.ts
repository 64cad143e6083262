/**
 * Products: the list, a new one, and the sheets of each.
 */
import { readForm } from "../../middleware.ts";
import { Hono } from "hono";
import { PAGE_ROWS, productsPage, readSearch } from "../../pages/maker-products.ts";
import { productHref } from "../../pages/maker-product.ts";
import type { Shop } from "../../ports.ts";
import type { Desks } from "../../products/desk.ts";
import { checkLength } from "../../products/fields.ts";
import type { Fault } from "../../typed/fault.ts";
import { textOf } from "../../typed/text.ts";
import { roomsOf } from "../../products/rooms.ts";
import { NAME_MOST } from "../../products/sheets/words-sheet.ts";
import { asCopy, fromExample, fromNothing } from "../../products/starts.ts";
import { beginProduct, openDraft } from "../../products/write-draft.ts";
import { makerPage } from "./page.ts";
import { baseRoutes } from "./product-bases.ts";
import { authorOf } from "./product-page.ts";
import { roomRoutes } from "./product-room.ts";
import { sheetRoutes } from "./product-sheets.ts";
import { versionRoutes } from "./product-versions.ts";
import type { Signed, SignedContext } from "./visit.ts";

/** Products offered for copying; whoever has more begins the copy from the product's own page. */
const COPIES_MOST = 200;

const STARTS = [
  ["nothing", "From nothing"],
  ["example", "From our example, marked as one"],
  ["copy", "As a copy of another product"],
] as const;

export function productRoutes(shop: Shop, desks: Desks) {
  const rooms = roomsOf();

  async function showNew(c: SignedContext, typed: { name: string; start: string; copy: string }) {
    const names = await shop.products.names(c.get("shopId"), COPIES_MOST);
    const starts = STARTS.filter(([value]) => value !== "copy" || names.length > 0);
    return {
      title: "Begin a product",
      name: typed.name,
      starts: starts.map(([value, words]) => ({ value, words, chosen: value === typed.start })),
      copies: names.map(({ id, name }) => ({
        id,
        name: name || "without a name",
        chosen: id === typed.copy,
      })),
      notice: "",
      conflict: undefined,
      faults: [] as readonly Fault[],
    };
  }

  return new Hono<Signed>()
    .get("/", async (c) => {
      const [shopId, query] = [c.get("shopId"), new URL(c.req.url).searchParams];
      const search = readSearch(query);
      const [found, desk] = await Promise.all([
        shop.products.list(shopId, search, PAGE_ROWS + 1),
        desks(c.get("owner")),
      ]);
      const away = query.get("away") ?? "";
      const row = away === "" ? undefined : await shop.products.byId(shopId, away);
      const isAway = row !== undefined && row.archivedAt !== null;
      const notice = isAway
        ? { words: `“${row.name}” is put away and out of the shop.`, undo: away }
        : { words: "", undo: "" };
      const model = productsPage(search, found, desk, notice);
      return c.html(await makerPage(shop, c, "products", "maker-products", model));
    })
    .get("/new", async (c) => {
      const copy = c.req.query("copy") ?? "";
      const typed = { name: "", start: copy === "" ? "nothing" : "copy", copy };
      const model = await showNew(c, typed);
      return c.html(await makerPage(shop, c, "products", "maker-product-new", model));
    })
    .post("/new", async (c) => {
      const form = await readForm(c);
      const [name, start, copy] = ["name", "start", "copy"].map((each) => textOf(form, each)) as [
        string,
        string,
        string,
      ];
      const faults: Fault[] = [];
      if (name === "") faults.push({ field: "name", sentence: "Give the product a name." });
      checkLength(name, NAME_MOST, { field: "name", what: "The name" }, faults);
      if (faults.length > 0) {
        const model = { ...(await showNew(c, { name, start, copy })), faults };
        return c.html(await makerPage(shop, c, "products", "maker-product-new", model), 422);
      }
      const author = authorOf(c);
      const of = start === "copy" ? await openDraft(shop, author.shopId, copy) : undefined;
      const desk = await desks(c.get("owner"));
      const id = await beginProduct(shop, author, name, (as) => {
        if (of) return asCopy(of.document, as, name);
        return start === "example" ? fromExample(as, name, desk) : fromNothing(as, name, desk);
      });
      return c.redirect(`${productHref(id)}/words`, 303);
    })
    .route("/", versionRoutes(shop, desks, rooms))
    .route("/", sheetRoutes(shop, desks))
    .route("/", baseRoutes(shop, desks))
    .route("/", roomRoutes(shop, desks, rooms));
}
