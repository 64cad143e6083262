/**
 * One ingredient of the shelf: added from the library, looked at, changed, put away and put back; and its lots
 * received.
 */
import { textOf } from "../../typed/text.ts";
import { readForm } from "../../middleware.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { ingredientById } from "#data/library.ts";
import { Hono } from "hono";
import { ingredientOfRow } from "../../actions/pantry.ts";
import { ingredientFormPage, libraryPage, meanwhileOf } from "../../pages/maker-shelf-form.ts";
import { LOTS_SHOWN_MOST, ingredientPage } from "../../pages/maker-shelf-ingredient.ts";
import { hrefOf } from "../../pages/maker-shelf.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import type { Desks } from "../../products/desk.ts";
import { readAmount } from "../../shelf/amount.ts";
import {
  INGREDIENT_FIELDS,
  type IngredientFields,
  type IngredientWords,
  ingredientFieldsOf,
  readIngredient,
} from "../../shelf/ingredient-fields.ts";
import { searchLibrary } from "../../shelf/library-search.ts";
import { ownId } from "../../shelf/own-id.ts";
import { standInList } from "../../shelf/stand-in-list.ts";
import { Conflict } from "../../storage/database.ts";
import type { IngredientRow } from "../../storage/ingredients.ts";
import { blankFields, textFields } from "../../typed/fields.ts";
import { makerPage } from "./page.ts";
import { type ShelfGround, ownIngredient, shelfGround, wholeField } from "./shelf-ground.ts";
import { receiveRoutes } from "./shelf-receive.ts";
import type { Signed, SignedContext } from "./visit.ts";

/** A price of zero tells that it is free. */
const FIELD_WORDS: Readonly<Partial<Record<keyof IngredientFields, string>>> = {
  ...{ name: "Name", supplier: "Supplier", pack: "Pack", price: "Price", refined: "Refined" },
  ...{ scent: "Scent", doseMost: "Greatest share", lowBelow: "Low below", note: "Note" },
};

export function shelfIngredientRoutes(shop: Shop, deskOf: Desks) {
  type Says = Parameters<typeof ingredientFormPage>[3];
  async function form(
    c: SignedContext,
    ground: ShelfGround,
    library: Ingredient,
    id: string | undefined,
    says: Says,
  ) {
    const model = ingredientFormPage(ground, library, id, says);
    return await makerPage(shop, c, "shelf", "maker-shelf-form", model);
  }

  async function set(
    c: SignedContext,
    change: Partial<Pick<IngredientRow, "archivedAt" | "ranOutAt">>,
  ) {
    const { shopId } = shelfGround(shop, c);
    const { row } = await ownIngredient(shop, shopId, c.req.param("id")!);
    const since = wholeField(await readForm(c), "revision");
    try {
      await shop.ingredients.save(shopId, row.id, change, since);
    } catch (error) {
      // Somebody saved meanwhile: the page shows what is now, and the button stands there again.
      if (!(error instanceof Conflict)) throw error;
    }
    return c.redirect(hrefOf(row.id), 303);
  }

  return new Hono<Signed>()
    .get("/new", async (c) => {
      const ground = shelfGround(shop, c);
      const of = c.req.query("of");
      if (of !== undefined) {
        const says = {
          fields: { ...blankFields(INGREDIENT_FIELDS), refined: "not-told" },
          revision: 0,
          faults: [],
        };
        return c.html(await form(c, ground, libraryIngredient(of), undefined, says));
      }
      const words = (c.req.query("q") ?? "").trim().slice(0, 80);
      const rows = await shop.ingredients.ofShop(ground.shopId);
      const own = new Map(rows.map((row) => [row.libraryId, row.name]));
      const model = libraryPage(words, searchLibrary(words), own);
      return c.html(await makerPage(shop, c, "shelf", "maker-shelf-library", model));
    })
    .post("/new", async (c) => {
      const ground = shelfGround(shop, c);
      const sent = await readForm(c);
      const library = libraryIngredient(textOf(sent, "of"));
      const fields = textFields(sent, INGREDIENT_FIELDS);
      const reading = readIngredient(fields, library, ground.currency);
      const added = "read" in reading ? await add(shop, ground, library, reading.read) : reading;
      if ("id" in added) return c.redirect(hrefOf(added.id), 303);
      const says = { fields, revision: 0, faults: added.faults };
      return c.html(await form(c, ground, library, undefined, says), 422);
    })
    .route("/:id/receive", receiveRoutes(shop))
    .get("/:id", async (c) => {
      const ground = shelfGround(shop, c);
      const { shopId, today } = ground;
      const own = await ownIngredient(shop, shopId, c.req.param("id"));
      const { id } = own.row;
      const need = (c.req.query("need") ?? "").trim().slice(0, 40);
      const amount = need === "" ? undefined : readAmount(need, own.ingredient);
      const [onShelf, gone, uses, suggestion] = await Promise.all([
        shop.lots.onShelf(shopId, id, LOTS_SHOWN_MOST + 1),
        shop.lots.gone(shopId, id, LOTS_SHOWN_MOST),
        shop.ingredients.usedBy(shopId, id),
        amount && "mg" in amount ? shop.stock.suggest(shopId, id, amount.mg, today) : undefined,
      ]);
      const needFault = amount && "fault" in amount ? amount.fault : "";
      const standIns =
        c.req.query("standIn") === undefined
          ? undefined
          : await standInList(shop, await deskOf(ground.owner), id, uses);
      const asked = { need, needFault, suggestion, standIns };
      const model = ingredientPage(ground, own, { onShelf, gone, uses }, asked);
      return c.html(await makerPage(shop, c, "shelf", "maker-shelf-ingredient", model));
    })
    .get("/:id/edit", async (c) => {
      const ground = shelfGround(shop, c);
      const { row } = await ownIngredient(shop, ground.shopId, c.req.param("id"));
      const fields = ingredientFieldsOf(row, ground.currency);
      const says = { fields, revision: row.revision, faults: [] };
      return c.html(await form(c, ground, libraryIngredient(row.libraryId), row.id, says));
    })
    .post("/:id/edit", async (c) => {
      const ground = shelfGround(shop, c);
      const { shopId, currency } = ground;
      const { row } = await ownIngredient(shop, shopId, c.req.param("id"));
      const library = libraryIngredient(row.libraryId);
      const sent = await readForm(c);
      const since = wholeField(sent, "revision");
      const fields = textFields(sent, INGREDIENT_FIELDS);
      const reading = readIngredient(fields, library, currency);
      const faults =
        "faults" in reading ? reading.faults : await nameFaults(shop, row, reading.read.name);
      if (faults.length > 0 || "faults" in reading) {
        const says = { fields, revision: since, faults };
        return c.html(await form(c, ground, library, row.id, says), 422);
      }
      try {
        await shop.ingredients.save(shopId, row.id, reading.read, since);
      } catch (error) {
        if (!(error instanceof Conflict)) throw error;
        const { row: now } = await ownIngredient(shop, shopId, row.id);
        const stored = ingredientFieldsOf(now, ground.currency);
        const meanwhile = meanwhileOf(stored, fields, FIELD_WORDS);
        const says = { fields, revision: now.revision, faults: [], meanwhile };
        return c.html(await form(c, ground, library, row.id, says), 409);
      }
      return c.redirect(hrefOf(row.id), 303);
    })
    .post("/:id/put-away", (c) => set(c, { archivedAt: shop.clock.seconds() }))
    .post("/:id/put-back", (c) => set(c, { archivedAt: null }))
    .post("/:id/ran-out", (c) => set(c, { ranOutAt: shop.clock.seconds() }))
    .post("/:id/there-again", (c) => set(c, { ranOutAt: null }));
}

/** @throws Refusal shelf.ingredient.unknown */
function libraryIngredient(id: string): Ingredient {
  const known = ingredientById(id);
  if (!known) throw new Refusal("shelf.ingredient.unknown", "The library holds no such fat.");
  return known;
}

/** Store a new ingredient under a free id; another request may take that id first, then the next is tried. */
async function add(
  shop: Shop,
  { shopId }: ShelfGround,
  library: Ingredient,
  words: IngredientWords,
) {
  for (let attempt = 1; ; attempt++) {
    const rows = await shop.ingredients.ofShop(shopId);
    const faults = sameName(rows, library.id, words.name);
    if (faults.length > 0) return { faults };
    const id = ownId(library.id, words.name, new Set(rows.map((row) => row.id)));
    try {
      await shop.ingredients.create({ shopId, id, libraryId: library.id, ...words });
      return { id };
    } catch (error) {
      if (!(error instanceof Conflict) || attempt === 5) throw error;
    }
  }
}

async function nameFaults(shop: Shop, row: IngredientRow, name: string) {
  const others = (await shop.ingredients.ofShop(row.shopId)).filter(({ id }) => id !== row.id);
  return sameName(others, row.libraryId, name);
}

/** Two of one fat are told apart by their names. */
function sameName(rows: readonly IngredientRow[], libraryId: string, name: string) {
  const known = ingredientById(libraryId)!.name;
  const called = (own: string) => (own || known).toLowerCase();
  const twin = rows.find((row) => row.libraryId === libraryId && called(row.name) === called(name));
  if (!twin) return [];
  const where = twin.archivedAt === null ? "on your shelf already" : "among what you put away";
  const label = ingredientOfRow(twin)?.name ?? known;
  const sentence = `${label} is ${where}. To keep both, give this one a name of its own.`;
  return [{ field: "name", sentence }];
}
