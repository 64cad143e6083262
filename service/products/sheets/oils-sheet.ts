/**
 * The oil places of a product, and which oils of the shelf may stand in each.
 */
import type { Place } from "#core/compose/product.ts";
import { type Desk, nameOf } from "../desk.ts";
import type { ProductDraft } from "../draft-shape.ts";
import { checkLength, idFor, sameName } from "../fields.ts";
import type { Fault } from "../../typed/fault.ts";
import { textsOf } from "../../typed/text.ts";
import { shelfOf } from "./choices.ts";
import { type SheetForm, outcome } from "./sheet-form.ts";

/** More places than this no customer fills in. */
export const PLACES_MOST = 6;
const NEW = "new";
const NAME_MOST = 40;

interface TypedPlace {
  /** "new" for a place to come. */
  readonly id: string;
  readonly name: string;
  readonly allowed: readonly string[];
}

export const OILS_SHEET: SheetForm<readonly TypedPlace[]> = {
  sheet: "oils",
  page: "maker-product-oils",
  write: ({ product: { places } }) => [...places, { id: NEW, name: "", allowed: [] }],
  read(form) {
    const names = textsOf(form, "name");
    return textsOf(form, "place").map((id, at) => ({
      id,
      name: names[at] ?? "",
      allowed: textsOf(form, `allow-${id}`),
    }));
  },
  apply(typed, draft, desk) {
    const faults: Fault[] = [];
    const kept = typed.filter(({ name }) => name !== "");
    typed.forEach((place, at) => checkPlace(place, at, typed, desk, faults));
    checkUse(typed, draft, faults);
    if (kept.length > PLACES_MOST) {
      faults.push({ field: "name-0", sentence: `A product can have ${PLACES_MOST} oil places.` });
    }
    return outcome(faults, () => ({
      ...draft,
      product: { ...draft.product, places: asPlaces(kept) },
    }));
  },
  model(typed, _draft, desk) {
    const named = typed.map(({ id, name }, at) => ({
      id,
      name,
      field: `name-${at}`,
      number: at + 1,
    }));
    const used = new Set(typed.flatMap(({ allowed }) => allowed));
    const oils = shelfOf(desk).filter(
      ({ id, kind, standing }) => (kind === "oil" && standing) || used.has(id),
    );
    const listed = new Set(oils.map(({ id }) => id));
    const gone = [...used]
      .filter((id) => !listed.has(id))
      .map((id) => ({ id, name: nameOf(desk, id), standing: false }));
    return {
      places: named,
      full: typed.length > PLACES_MOST,
      anyOils: oils.length > 0,
      oils: [...oils, ...gone].map(({ id, name, standing }) => ({
        id,
        name,
        standing,
        facts: factsOf(desk, id),
        ticks: typed.map((place, at) => ({
          place: place.id,
          number: at + 1,
          words: `${name} as ${place.name || "new place"}`,
          ticked: place.allowed.includes(id),
        })),
      })),
    };
  },
};

function checkPlace(
  { id, name, allowed }: TypedPlace,
  at: number,
  typed: readonly TypedPlace[],
  desk: Desk,
  faults: Fault[],
): void {
  const field = `name-${at}`;
  if (name === "") {
    if (id === NEW && allowed.length > 0) {
      faults.push({ field, sentence: "Oils are ticked for a new place: give it a name." });
    }
    return;
  }
  checkLength(name, NAME_MOST, { field, what: "The name of a place" }, faults);
  if (typed.slice(0, at).some((before) => sameName(before.name, name))) {
    faults.push({ field, sentence: `Two places are called “${name}”.` });
  }
  for (const oil of allowed.filter((each) => !desk.ingredientOf(each))) {
    faults.push({ field, sentence: `Nothing is known of ${oil}: untick it as ${name}.` });
  }
}

/** A place without a name is taken out, unless a base still stands on it. */
function checkUse(typed: readonly TypedPlace[], { product }: ProductDraft, faults: Fault[]): void {
  for (const { id, name } of product.places) {
    const at = typed.findIndex((each) => each.id === id && each.name !== "");
    const user = product.bases.find(({ oils }) => oils.some(({ place }) => place === id));
    if (at >= 0 || !user) continue;
    const field = `name-${Math.max(
      0,
      typed.findIndex((each) => each.id === id),
    )}`;
    const sentence = `${user.name} has an oil in “${name}”. Take it out of that base first.`;
    faults.push({ field, sentence });
  }
}

function asPlaces(kept: readonly TypedPlace[]): Place[] {
  const taken = kept.map(({ id }) => id).filter((id) => id !== NEW);
  return kept.map(({ id, name, allowed }) => ({
    id: id === NEW ? idFor(name, "place", taken) : id,
    name,
    allowed: [...new Set(allowed)],
  }));
}

function factsOf(desk: Desk, id: string): string {
  const ingredient = desk.ingredientOf(id);
  if (!ingredient) return "";
  const { poreRating: pores, allergenFamilies } = ingredient;
  const rating = pores.rated ? `pore rating ${pores.value}` : "unrated";
  return [rating, ...allergenFamilies.map((family) => family.replaceAll("-", " "))].join(", ");
}
