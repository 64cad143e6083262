/**
 * How a product begins: from nothing, as a copy of another, or from our own example, which says of itself that it is
 * one.
 */
import type { LabelFacts, Product } from "#core/compose/product.ts";
import { USUAL_AIR_FRACTION } from "#core/judge/firmness.ts";
import { USUAL_ROOM_C } from "#core/judge/verdict.ts";
import { hasMonths } from "#core/make/label-facts.ts";
import type { PricePolicy } from "#core/price/policy.ts";
import type { LabelSettings } from "../documents/label-settings.ts";
import type { Desk } from "./desk.ts";
import type { ProductDraft } from "./draft-shape.ts";

/** Nothing is charged and nothing is made of it yet; the price sheet asks for each figure. */
const NO_PRICE: PricePolicy = {
  lossShare: 0,
  jarMinor: {},
  labelMinor: 0,
  labourPerJarMinor: 0,
  labourPerBatchMinor: 0,
  jarsPerBatch: 1,
  profit: { kind: "markup", share: 0 },
  taxShare: 0,
  roundUpToMinor: 1,
};

const QUANTITY_MOST = 24;

function emptyProduct(id: string, name: string, desk: Desk): Product {
  return {
    id,
    name,
    words: "",
    places: [],
    bases: [],
    additives: [],
    jars: [],
    quantityMost: QUANTITY_MOST,
    useCelsius: USUAL_ROOM_C,
    airFraction: USUAL_AIR_FRACTION,
    rules: {},
    ...labelToBegin(desk.particulars.label),
  };
}

/** The shop's months, to be looked at: how they are known is for somebody to say of this very product. */
function labelToBegin({ shelfLifeMonths, openMonths }: Partial<LabelSettings> = {}): Pick<
  Product,
  "label"
> {
  const label: LabelFacts = {
    ...(shelfLifeMonths === undefined ? {} : { shelfLifeMonths }),
    ...(openMonths === undefined ? {} : { openMonths }),
  };
  return hasMonths(label) ? { label } : {};
}

/** An empty draft with the shop's months. */
export function fromNothing(id: string, name: string, desk: Desk): ProductDraft {
  return { product: emptyProduct(id, name, desk), pricePolicy: NO_PRICE };
}

/** A copy, which is to become another blend: that months hold for it must be found anew. */
export function asCopy(of: ProductDraft, id: string, name: string): ProductDraft {
  const { aside: _, ...draft } = of;
  const { label, ...product } = draft.product;
  const { monthsFrom: __, ...facts } = label ?? {};
  return { ...draft, product: { ...product, id, name, ...(label ? { label: facts } : {}) } };
}

/** Our own example: figures made up, to be tried at the bench and changed. */
export function fromExample(id: string, name: string, desk: Desk): ProductDraft {
  const [shea, cocoa] = [ownId(desk, "shea-butter"), ownId(desk, "cocoa-butter")];
  const [jojoba, sunflower] = [ownId(desk, "jojoba-oil"), ownId(desk, "sunflower-oil")];
  const bounded = (ingredient: string, share: number, least: number, greatest: number) => ({
    ...{ ingredient, share, least, greatest },
  });
  return {
    product: {
      ...emptyProduct(id, name, desk),
      words: "An example. Write here what your customers should know.",
      places: [
        { id: "gliding", name: "Gliding oil", allowed: [jojoba] },
        { id: "caring", name: "Caring oil", allowed: [sunflower] },
      ],
      bases: [
        {
          id: "example-base",
          name: "Example base",
          words: "An example. Mostly shea, with a little cocoa butter and two oils.",
          butters: [bounded(shea, 6000, 4500, 7500), bounded(cocoa, 1000, 0, 3000)],
          oils: [
            { place: "gliding", ...bounded(jojoba, 1500, 500, 3000) },
            { place: "caring", ...bounded(sunflower, 1500, 500, 3000) },
          ],
        },
      ],
      jars: [{ id: "example-jar", name: "Example jar", fillG: 100 }],
      rules: { firmness: ["soft", "firm"], softensAboveLeastCelsius: 26 },
    },
    pricePolicy: NO_PRICE,
    example: true,
  };
}

/** What the maker calls a fat of the library: the first on the shelf, or the library's id while there is none. */
function ownId({ shelf }: Desk, libraryId: string): string {
  const rows = [...shelf.values()].filter((row) => row.libraryId === libraryId);
  return (rows.find(({ archivedAt }) => archivedAt === null) ?? rows[0])?.id ?? libraryId;
}
