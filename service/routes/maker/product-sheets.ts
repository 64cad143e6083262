/**
 * The sheets of a product: each its own address, its own form, and a guard against two people saving at once.
 */
import { readForm } from "../../middleware.ts";
import { Hono } from "hono";
import { productHref, sheetAfter } from "../../pages/maker-product.ts";
import type { Shop } from "../../ports.ts";
import type { Desks } from "../../products/desk.ts";
import { differencesOf } from "../../products/differences.ts";
import { type ProductDraft, withSheet } from "../../products/draft-shape.ts";
import type { OpenProduct } from "../../products/open-product.ts";
import { ADDITIVES_SHEET } from "../../products/sheets/additives-sheet.ts";
import { JARS_SHEET } from "../../products/sheets/jars-sheet.ts";
import { LABEL_SHEET } from "../../products/sheets/label-sheet.ts";
import { OILS_SHEET } from "../../products/sheets/oils-sheet.ts";
import { RULES_SHEET } from "../../products/sheets/rules-sheet.ts";
import type { SheetForm } from "../../products/sheets/sheet-form.ts";
import { WORDS_SHEET } from "../../products/sheets/words-sheet.ts";
import { saveDraft } from "../../products/write-draft.ts";
import { wholeIn } from "../../typed/form-carried.ts";
import { authorOf, productOf, productPage } from "./product-page.ts";
import type { Signed, SignedContext } from "./visit.ts";

export function sheetRoutes(shop: Shop, desks: Desks) {
  const routes = new Hono<Signed>();
  const own = [WORDS_SHEET, OILS_SHEET, ADDITIVES_SHEET, JARS_SHEET, LABEL_SHEET, RULES_SHEET];
  for (const sheet of own) {
    const form = sheet as SheetForm<unknown>;
    routes
      .get(`/:id/${form.sheet}`, async (c) =>
        c.html(await showSheet(shop, c, await productOf(shop, desks, c), form)),
      )
      .post(`/:id/${form.sheet}`, (c) => saveSheet(shop, desks, c, form));
  }
  return routes;
}

/** The sheet as it stands in the draft. */
export function showSheet<Typed>(
  shop: Shop,
  c: SignedContext,
  open: OpenProduct,
  form: SheetForm<Typed>,
  typed: Typed = form.write(open.stored.document, open.desk),
  more: object = {},
): Promise<string> {
  const notice = c.req.method === "GET" && c.req.query("saved") ? "Saved." : "";
  return productPage(shop, c, open, [form.page, form.sheet], {
    ...form.model(typed, open.stored.document, open.desk, open.shipDay),
    notice,
    ...more,
  });
}

/** Save what was typed; or show it again with what stands against it. */
export async function saveSheet<Typed>(
  shop: Shop,
  desks: Desks,
  c: SignedContext,
  sheet: SheetForm<Typed>,
  stay = (draft: ProductDraft) => `${productHref(draft.product.id)}/${sheet.sheet}`,
): Promise<Response> {
  const form = await readForm(c);
  const open = await productOf(shop, desks, c);
  const typed = sheet.read(form);
  const since = wholeIn(form, "revision");
  const applied = sheet.apply(typed, open.stored.document, open.desk);
  if ("faults" in applied) {
    const again = { faults: applied.faults, revision: since };
    return c.html(await showSheet(shop, c, open, sheet, typed, again), 422);
  }
  const draft = withSheet(applied.draft, sheet.sheet);
  const late =
    since === open.stored.revision ? await saveDraft(shop, authorOf(c), draft, since) : open.stored;
  if (late) return await showConflict(shop, desks, c, sheet, typed);
  const id = draft.product.id;
  const next =
    form.get("then") === "on"
      ? `${productHref(id)}/${sheet.sheet === "bases" ? "bases" : sheetAfter(sheet.sheet)}`
      : `${stay(draft)}?saved=1`;
  return c.redirect(next, 303);
}

/** Somebody saved meanwhile: what was typed, and what saving it would change in what stands there now. */
async function showConflict<Typed>(
  shop: Shop,
  desks: Desks,
  c: SignedContext,
  sheet: SheetForm<Typed>,
  typed: Typed,
): Promise<Response> {
  const open = await productOf(shop, desks, c);
  const now = open.stored.document;
  const applied = sheet.apply(typed, now, open.desk);
  const conflict = {
    who: await whoSaved(shop, c, open),
    differences: "draft" in applied ? differencesOf(now, applied.draft, open.desk) : [],
    href: c.req.path,
  };
  const faults = "faults" in applied ? applied.faults : [];
  return c.html(await showSheet(shop, c, open, sheet, typed, { conflict, faults }), 409);
}

async function whoSaved(shop: Shop, c: SignedContext, { stored }: OpenProduct): Promise<string> {
  const { personId } = stored;
  const person = personId ? await shop.people.byId(c.get("shopId"), personId) : undefined;
  return person ? `It was ${person.name}.` : "";
}
