/**
 * The bases of a product: list, sheet, a look without saving, setting aside and back, and a trial at the bench.
 */
import { readForm } from "../../middleware.ts";
import { startingChoice } from "#core/compose/product.ts";
import { Hono } from "hono";
import { issueTrial } from "../../batches/trial.ts";
import { basesPage } from "../../pages/maker-product-bases.ts";
import { productHref } from "../../pages/maker-product.ts";
import { renderPage } from "../../pages/render.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import type { Desks } from "../../products/desk.ts";
import { putBaseBack, setBaseAside } from "../../products/aside.ts";
import type { ProductDraft } from "../../products/draft-shape.ts";
import { wholeIn } from "../../typed/form-carried.ts";
import { textOf } from "../../typed/text.ts";
import { numberOf } from "../../typed/figure.ts";
import { NEW_BASE, baseSheet } from "../../products/sheets/base-sheet.ts";
import { saveDraft } from "../../products/write-draft.ts";
import { authorOf, productOf, productPage } from "./product-page.ts";
import { saveSheet, showSheet } from "./product-sheets.ts";
import type { Signed, SignedContext } from "./visit.ts";

export function baseRoutes(shop: Shop, desks: Desks) {
  async function showBases(c: SignedContext, notice = "") {
    const open = await productOf(shop, desks, c);
    const said = notice || (c.req.query("saved") ? "Saved." : "");
    return await productPage(shop, c, open, ["maker-product-bases", "bases"], {
      ...basesPage(open),
      notice: said,
    });
  }

  /** Change the draft by one press; what came late is told and changes nothing. */
  async function press(c: SignedContext, change: (draft: ProductDraft) => ProductDraft) {
    const form = await readForm(c);
    const { stored } = await productOf(shop, desks, c);
    const since = wholeIn(form, "revision");
    const late =
      since === stored.revision
        ? await saveDraft(shop, authorOf(c), change(stored.document), since)
        : stored;
    if (late) return c.html(await showBases(c, LATE), 409);
    return c.redirect(`${productHref(stored.document.product.id)}/bases`, 303);
  }

  return new Hono<Signed>()
    .get("/:id/bases", async (c) => c.html(await showBases(c)))
    .post("/:id/bases/put-back", async (c) => {
      const base = textOf(await readForm(c), "base");
      return await press(c, (draft) => putBaseBack(draft, base));
    })
    .get("/:id/bases/:base", async (c) => {
      const open = await productOf(shop, desks, c);
      const id = c.req.param("base");
      const { bases } = open.stored.document.product;
      if (id !== NEW_BASE) mustBeThere(bases, id);
      const sheet = baseSheet(id);
      const from = id === NEW_BASE ? c.req.query("from") : undefined;
      if (!from || !bases.some((base) => base.id === from)) {
        return c.html(await showSheet(shop, c, open, sheet));
      }
      const typed = { ...baseSheet(from).write(open.stored.document, open.desk), name: "" };
      return c.html(await showSheet(shop, c, open, sheet, typed));
    })
    .post("/:id/bases/:base", async (c) => {
      const id = c.req.param("base");
      const stay = ({ product }: ProductDraft) => {
        const saved = id === NEW_BASE ? product.bases.at(-1)!.id : id;
        return `${productHref(product.id)}/bases/${encodeURIComponent(saved)}`;
      };
      return await saveSheet(shop, desks, c, baseSheet(id), stay);
    })
    .post("/:id/bases/:base/look", async (c) => {
      const open = await productOf(shop, desks, c);
      const sheet = baseSheet(c.req.param("base"));
      const typed = sheet.read(await readForm(c));
      const model = sheet.model(typed, open.stored.document, open.desk, open.shipDay);
      return c.html(renderPage("maker-product-base-facts", model));
    })
    .post("/:id/bases/:base/aside", (c) =>
      press(c, (draft) => setBaseAside(draft, c.req.param("base"))),
    )
    .post("/:id/bases/:base/trial", async (c) => {
      const { stored } = await productOf(shop, desks, c);
      const { product } = stored.document;
      const base = mustBeThere(product.bases, c.req.param("base"));
      const { personId } = authorOf(c);
      const massG = numberOf(textOf(await readForm(c), "massG"));
      const choice = startingChoice(base);
      const number = await issueTrial(shop, c.get("owner"), { product, choice, massG, personId });
      return c.redirect(`/maker/batches/${number}`, 303);
    });
}

function mustBeThere<Base extends { readonly id: string }>(
  bases: readonly Base[],
  id: string,
): Base {
  const base = bases.find((each) => each.id === id);
  if (base) return base;
  throw new Refusal("compose.product.unknown", "There is no such base in this product.");
}

const LATE = "Somebody saved meanwhile, so nothing was changed now. This is how it stands.";
