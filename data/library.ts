/**
 * The ingredient library: records with their sources inside, plain ingredients for the core
 * outside.
 *
 * Each plain ingredient is made once, when the module loads, because the core remembers what it
 * worked out by the identity of the composition object.
 */
import type { Composition, Ingredient, PoreRating, RatingEvidence } from "#core/ingredient.ts";
import { aromaticOf } from "./library/aromatic.ts";
import { DELICATE_OILS } from "./library/delicate-oils.ts";
import { ESSENTIAL_OILS } from "./library/essential-oils.ts";
import { KERNEL_OILS } from "./library/kernel-oils.ts";
import { LAURIC_AND_PALM_FATS } from "./library/lauric-and-palm-fats.ts";
import { LINOLEIC_OILS } from "./library/linoleic-oils.ts";
import { OLEIC_OILS } from "./library/oleic-oils.ts";
import { OTHER_LIQUIDS } from "./library/other-liquids.ts";
import { POWDERS_AND_ADDITIVES } from "./library/powders-and-additives.ts";
import type {
  CompositionChoice,
  RecordedIngredient,
  RecordedPoreRating,
} from "./library/record.ts";
import { SEED_BUTTERS } from "./library/seed-butters.ts";
import { SHEA_FATS } from "./library/shea-fats.ts";
import { WAXES_AND_STRUCTURANTS } from "./library/waxes-and-structurants.ts";
import type { SourceKey } from "./sources.ts";

const RECORDS: readonly RecordedIngredient[] = [
  ...SHEA_FATS,
  ...SEED_BUTTERS,
  ...LAURIC_AND_PALM_FATS,
  ...OLEIC_OILS,
  ...KERNEL_OILS,
  ...LINOLEIC_OILS,
  ...DELICATE_OILS,
  ...OTHER_LIQUIDS,
  ...WAXES_AND_STRUCTURANTS,
  ...POWDERS_AND_ADDITIVES,
  ...ESSENTIAL_OILS,
];

/** The kind of evidence follows from the source a rating names. */
const EVIDENCE: Readonly<Partial<Record<SourceKey, RatingEvidence>>> = {
  "fulton-1989": "assay-read",
  "fulton-1989-copied": "assay-copied",
  "trade-ratings": "trade-pages",
  recalled: "recalled",
};

/** Words of the record that say there is no scent to speak of. */
const NO_SCENT: ReadonlySet<string> = new Set(["none", "almost none"]);

const RECORD_BY_ID = new Map(RECORDS.map((record) => [record.id, record]));
const INGREDIENT_BY_ID = new Map(RECORDS.map((record) => [record.id, plainIngredient(record)]));

/** Ids of all recorded ingredients, butters first. */
export const INGREDIENT_IDS: readonly string[] = RECORDS.map(({ id }) => id);

/**
 * The core's ingredient, always the same object for an id.
 * @param id kebab-case id such as "shea-butter"
 * @returns the ingredient, or nothing when the library does not hold it
 */
export function ingredientById(id: string): Ingredient | undefined {
  return INGREDIENT_BY_ID.get(id);
}

/**
 * The record behind an ingredient: ranges, sources, scent, shelf life.
 * @returns the record, or nothing when the library does not hold it
 */
export function recordOf(id: string): RecordedIngredient | undefined {
  return RECORD_BY_ID.get(id);
}

/**
 * Whether an ingredient smells of something, as far as its record says.
 * @param coat refined or unrefined, where it is known which was bought; else the record must say the same of both
 * @returns nothing where the record does not settle it: no coat on record, two that differ, or a faint scent
 */
export function scentedOf(
  { appearance, essentialOil }: RecordedIngredient,
  coat?: "refined" | "unrefined",
): boolean | undefined {
  if (essentialOil) return true;
  const coats = coat ? [appearance[coat]] : [appearance.refined, appearance.unrefined];
  const said = coats.flatMap((each) => (each ? [scentIn(each.scent)] : []));
  return said.every((each) => each === said[0]) ? said[0] : undefined;
}

function scentIn(words: string): boolean | undefined {
  if (NO_SCENT.has(words)) return false;
  return words.startsWith("faint") ? undefined : true;
}

function plainIngredient(record: RecordedIngredient): Ingredient {
  const { id, name, kind, poreRating, addBelowC } = record;
  const measured = plainMeasured(record);
  const scented = scentedOf(record);
  return {
    id,
    name,
    inci: record.inci.text,
    kind,
    composition: plainComposition(record.composition),
    poreRating: plainRating(poreRating),
    allergenFamilies: record.allergens.families,
    ...(scented === undefined ? {} : { scented }),
    ...(measured ? { measured } : {}),
    ...spreadOf(record),
    ...settingOf(record),
    ...(addBelowC ? { addBelowC: addBelowC.value } : {}),
    ...(record.essentialOil ? { aromatic: aromaticOf(record.essentialOil) } : {}),
  };
}

function plainRating(recorded: RecordedPoreRating): PoreRating {
  if (!recorded.rated) return { rated: false };
  const { value, low, high, confidence, source } = recorded;
  const evidence = EVIDENCE[source];
  if (!evidence) throw new Error(`no kind of evidence is set for the rating source ${source}`);
  return { rated: true, value, low, high, evidence, confidence };
}

function plainComposition({ chosen, unsaponifiable }: CompositionChoice): Composition {
  const inert = unsaponifiable ? { unsaponifiablePercent: unsaponifiable.value } : {};
  switch (chosen.kind) {
    case "fatty-acids":
      return { kind: chosen.kind, percent: chosen.percent, family: chosen.family, ...inert };
    case "triacylglycerols":
      return { kind: chosen.kind, percent: chosen.percent, ...inert };
    case "inert-liquid":
      return { kind: chosen.kind, molarMass: chosen.molarMass };
    case "wax": {
      const { kind, molarMass, meltingCelsius, fusionKJPerMol, structure } = chosen;
      return { kind, molarMass, meltingCelsius, fusionKJPerMol, structure };
    }
    default:
      return { kind: chosen.kind };
  }
}

/**
 * Spread of the commonest saturated acid, its published range read as two standard deviations either way. A range over
 * all origins is wider than what one maker buys, so no more is made of it.
 */
function spreadOf({ fattyAcidRanges }: RecordedIngredient): Pick<Ingredient, "compositionSpread"> {
  const saturated = Object.entries(fattyAcidRanges?.percent ?? {})
    .filter(([code]) => code.endsWith(":0"))
    .map(([, [low, high]]) => ({ sum: low + high, width: high - low }));
  const commonest = saturated.sort((one, other) => other.sum - one.sum)[0];
  return commonest ? { compositionSpread: commonest.width / (2 * commonest.sum) } : {};
}

/** Of a liquid that the core takes for liquid throughout: the upper end, where it begins to set. */
function settingOf({ composition, meltingC }: RecordedIngredient): Pick<Ingredient, "setsBelowC"> {
  const sets = composition.chosen.kind === "inert-liquid" ? meltingC?.[0] : undefined;
  return sets ? { setsBelowC: sets.high } : {};
}

function plainMeasured({ measured }: RecordedIngredient): Ingredient["measured"] {
  if (!measured) return undefined;
  const { iodineValue, saponificationValue, viscosityMm2PerS } = measured;
  return {
    ...(iodineValue ? { iodineValue: iodineValue.value } : {}),
    ...(saponificationValue ? { saponificationValue: saponificationValue.value } : {}),
    ...(viscosityMm2PerS ? { viscosityMm2PerS: viscosityMm2PerS.value } : {}),
  };
}
