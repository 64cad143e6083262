/**
 * Choosing a fat from the library, and the form of an ingredient.
 */
import type { Ingredient, IngredientKind } from "#core/ingredient.ts";
import { recordOf } from "#data/library.ts";
import { USUAL_CELSIUS, densityGPerMl } from "../shelf/amount.ts";
import type { Fault } from "../typed/fault.ts";
import type { IngredientFields } from "../shelf/ingredient-fields.ts";
import { hrefOf } from "./maker-shelf.ts";
import { type Said, faultLinks, fieldModels } from "./maker-shelf-words.ts";

const KIND_WORDS: Readonly<Record<IngredientKind, string>> = {
  butter: "Butters and hard fats",
  oil: "Oils and liquids",
  wax: "Waxes and what stiffens",
  powder: "Powders",
  additive: "Additives and essential oils",
};

/** @param own the maker's names for what stands on the shelf already, by library id */
export function libraryPage(
  words: string,
  found: readonly Ingredient[],
  own: ReadonlyMap<string, string>,
) {
  const kinds = Object.keys(KIND_WORDS) as IngredientKind[];
  return {
    title: "Add from the library",
    words,
    groups: kinds
      .map((kind) => ({
        words: KIND_WORDS[kind],
        ingredients: found
          .filter((each) => each.kind === kind)
          .map(({ id, name, inci }) => ({
            name,
            inci,
            href: `/maker/shelf/new?of=${id}`,
            standing: own.has(id),
            own: own.get(id) ?? "",
          })),
      }))
      .filter(({ ingredients }) => ingredients.length > 0),
  };
}

export interface Meanwhile {
  readonly label: string;
  readonly stored: string;
  readonly typed: string;
}

/** Fields that say something else by now than what was typed, by the words a form has for them. */
export function meanwhileOf<Name extends string>(
  stored: Readonly<Record<Name, string>>,
  typed: Readonly<Record<Name, string>>,
  words: Readonly<Partial<Record<Name, string>>>,
): Meanwhile[] {
  return (Object.entries(words) as [Name, string][])
    .filter(([name]) => stored[name] !== typed[name].trim())
    .map(([name, label]) => ({ label, stored: stored[name], typed: typed[name] }));
}

export interface FormSays<Fields> {
  readonly fields: Fields;
  readonly revision: number;
  readonly faults: readonly Fault[];
  /** Set when somebody saved meanwhile: what differs now. */
  readonly meanwhile?: readonly Meanwhile[];
}

export const overtaking = ({ meanwhile, faults }: FormSays<unknown>) => ({
  overtaken: meanwhile !== undefined,
  meanwhile: meanwhile ?? [],
  faults: faultLinks(faults),
});

/** @param id the row's own; nothing for one that is being added */
export function ingredientFormPage(
  said: Said,
  library: Ingredient,
  id: string | undefined,
  says: FormSays<IngredientFields>,
) {
  const { fields, revision, faults } = says;
  const isNew = id === undefined;
  const name = fields.name.trim() || library.name;
  const refined = [
    { value: "not-told", words: "Not told" },
    { value: "refined", words: "Refined" },
    { value: "unrefined", words: "Unrefined" },
  ];
  return {
    title: isNew ? `Add ${library.name}` : `Change ${name}`,
    headline: isNew ? `Add ${library.name}` : `Change ${name}`,
    back: isNew ? "Library" : name,
    backHref: isNew ? "/maker/shelf/new" : hrefOf(id),
    action: isNew ? "/maker/shelf/new" : `${hrefOf(id)}/edit`,
    button: isNew ? "Put it on the shelf" : "Save",
    inci: `INCI ${library.inci}`,
    libraryId: library.id,
    revision,
    ...overtaking(says),
    fields: fieldModels(fields, faults),
    nameHint: `Leave it empty to call it ${library.name}.`,
    packHint: packHint(library),
    priceLabel: `Price of the pack, in ${said.currency.code}`,
    appearance: appearanceOf(library.id),
    refined: refined.map((each) => ({ ...each, chosen: each.value === fields.refined })),
    doseHint: doseHint(library.id),
  };
}

/** What a pack may be written in, and what a volume of this fat weighs. */
export function packHint(ingredient: Ingredient): string {
  const density = densityGPerMl(ingredient, USUAL_CELSIUS);
  if (density === undefined) {
    return "Such as 1 kg, 250 g or 5 lb. Its density is not known here, so give a weight.";
  }
  const weight = (density * 1000).toFixed(0);
  return (
    `Such as 1 kg, 5 lb or 500 ml. A litre of it weighs about ${weight} g at ${USUAL_CELSIUS} °C; ` +
    "for another temperature write “500 ml at 35 °C”."
  );
}

function appearanceOf(id: string): string {
  const { unrefined, refined } = recordOf(id)?.appearance ?? {};
  const said = [
    ...(unrefined ? [`Unrefined: ${unrefined.scent}, ${unrefined.colour}.`] : []),
    ...(refined ? [`Refined: ${refined.scent}, ${refined.colour}.`] : []),
  ];
  return said.join(" ");
}

function doseHint(id: string): string {
  const usual = recordOf(id)?.usePercent;
  const range = usual ? `Trade habit: ${usual.low} to ${usual.high} %, no legal limit. ` : "";
  return `${range}What the supplier’s papers say goes first.`;
}
