/**
 * The words of a label: every particular a market asks for, from the blend and what the maker has set, and a list of
 * what is missing. Where the words stand is another question (`label-fit.ts`).
 *
 * A label is an aid: the maker's safety assessment and the law of the place come first.
 */
import type { Blend } from "../blend.ts";
import { fill, nameFamily } from "../words/words.ts";
import {
  type Durability,
  type DurabilityInput,
  type LotInJar,
  durabilityOf,
} from "./durability.ts";
import { type FactsInForce, openIn, purposeIn } from "./label-facts.ts";
import { type LabelGap, labelGap } from "./label-gaps.ts";
import { type LabelMarket, type ParticularId, heightFor } from "./label-market.ts";
import { allergenFamilies, inciOrder } from "./label-order.ts";
import type { LabelWords } from "./label-words.ts";

export interface LabelInput extends DurabilityInput {
  readonly blend: Blend;
  readonly productName: string;
  /** Nominal content of the jar [g] */
  readonly netG: number;
  readonly batchNumber: string;
  readonly market: LabelMarket;
  /** One or more languages, the first first. */
  readonly words: readonly LabelWords[];
  /** Area of the side or lid that faces the shopper [cm2] */
  readonly panelCm2: number;
  readonly responsible?: { readonly name: string; readonly address: string } | undefined;
  readonly contact?: string | undefined;
  /** What the product says itself. */
  readonly facts?: FactsInForce | undefined;
  /** Sentences the maker adds to the precautions of every product that has none of its own. */
  readonly ownPrecautions?: string | undefined;
  /** Country the jar is made in: ISO code, and its name in each of the languages. */
  readonly madeIn: { readonly country: string; readonly names: readonly string[] };
}

export interface Particular {
  readonly id: ParticularId;
  readonly text: string;
  /** Drawn before the text. */
  readonly symbol?: "open-jar" | "hourglass";
  /** Least height of its figures [mm] */
  readonly figureMm?: number;
}

export interface Label {
  readonly particulars: readonly Particular[];
  readonly gaps: readonly LabelGap[];
  /** The lot that set the date. */
  readonly endedBy?: LotInJar;
}

/** Exact: the international avoirdupois ounce of 1959. */
const G_PER_OUNCE = 28.349523125;
const OUNCES_PER_POUND = 16;

/** Write the particulars of a label. */
export function writeLabel(input: LabelInput): Label {
  const { market, productName } = input;
  const found = durabilityOf(input, market.durability);
  const durability = found.durability && durabilityParticular(found.durability, input);
  const particulars: (Particular | undefined)[] = [
    { id: "name", text: productName },
    { id: "purpose", text: joined(input, (words) => purposeIn(words, input.facts)) },
    contentParticular(input),
    { id: "ingredients", text: ingredientsText(input) },
    { id: "precautions", text: precautionsText(input) },
    durability,
    { id: "batch", text: `${input.words[0]!.batch} ${input.batchNumber}` },
    responsibleParticular(input),
    originParticular(input),
    input.contact && market.asksContact ? { id: "contact", text: input.contact } : undefined,
  ];
  return {
    particulars: particulars.filter(
      (each) => each !== undefined && each.text !== "",
    ) as Particular[],
    gaps: [...gapsOf(input), ...found.gaps],
    ...(found.endedBy ? { endedBy: found.endedBy } : {}),
  };
}

/**
 * The ingredient list as this market writes it: mass order, fragrance allergens behind where the market names them.
 * The order is that of `label-order.ts`.
 */
export function ingredientsText({ blend, market }: Pick<LabelInput, "blend" | "market">): string {
  const { entries, allergens } = inciOrder(blend);
  const names = [
    ...entries.filter(({ inci }) => inci !== "").map(({ inci }) => inci),
    ...(market.namesFragranceAllergens ? allergens.map(({ name }) => name) : []),
  ].map((name) => (market.inciStyle === "with-english-names" ? name : withoutEnglish(name)));
  return `Ingredients: ${[...new Set(names)].join(", ")}`;
}

/**
 * "NET WT 4.23 OZ (120 g)": ounces are cut after two places, so that the label never says more than is in it. Blanks
 * within a statement do not break, so that no figure is parted from its unit; those between statements may.
 */
export function contentText(netG: number, content: LabelMarket["content"]): string {
  return statementsOf(netG, content)
    .map((each) => each.replaceAll(" ", NO_BREAK))
    .join(" ");
}

const NO_BREAK = "\u00a0";

function statementsOf(netG: number, content: LabelMarket["content"]): string[] {
  const grams = `${netG} g`;
  if (content === "grams") return [grams];
  const ounces = cut(netG / G_PER_OUNCE);
  if (ounces < OUNCES_PER_POUND) return [`NET WT ${ounces} OZ`, `(${grams})`];
  const pounds = Math.floor(ounces / OUNCES_PER_POUND);
  const rest = cut(ounces - pounds * OUNCES_PER_POUND);
  return [`NET WT ${ounces} OZ`, `(${pounds} LB${rest > 0 ? ` ${rest} OZ` : ""})`, grams];
}

function cut(figure: number): number {
  return Math.floor(figure * 100 + 1e-6) / 100;
}

function withoutEnglish(inci: string): string {
  return inci.replace(/ \([^()]*\)/g, "");
}

/** The languages one after the other; what is alike stands once. */
function joined({ words }: LabelInput, of: (words: LabelWords) => string): string {
  return [...new Set(words.map(of))].join(" / ");
}

function contentParticular({ netG, market, panelCm2 }: LabelInput): Particular | undefined {
  if (netG < market.contentFromG) return undefined;
  const { by, steps } = market.contentHeights;
  return {
    id: "content",
    text: contentText(netG, market.content),
    figureMm: heightFor(by === "nominal-g" ? netG : panelCm2, steps),
  };
}

/** Families that lists held once and hold no more (FDA, January 2025): on a jar they would warn of nothing. */
const OFF_LISTS: ReadonlySet<string> = new Set(["tree-nut-formerly-listed"]);

function precautionsText(input: LabelInput): string {
  const { blend, words, facts, ownPrecautions } = input;
  const families = allergenFamilies(blend)
    .map(({ family }) => family)
    .filter((family) => !OFF_LISTS.has(family));
  const isScented = blend.parts.some(({ ingredient, share }) => ingredient.aromatic && share > 0);
  const sentences = words.map((language) => {
    const { precautions } = language;
    const named = families.map((family) => nameFamily(family, { core: language }));
    return [
      ...(named.length > 0 ? [fill(precautions.contains, { families: named.join(", ") })] : []),
      precautions.always,
      ...(isScented ? [precautions.scented] : []),
      facts?.precautions?.[language.language] ?? "",
    ];
  });
  const ofShop = facts?.precautions ? "" : (ownPrecautions ?? "");
  return [...sentences.flat(), ofShop].filter((each) => each !== "").join(" ");
}

function durabilityParticular(durability: Durability, input: LabelInput): Particular {
  if (durability.kind === "open-jar") {
    return { id: "durability", text: `${durability.months}M`, symbol: "open-jar" };
  }
  const day = dayWords(durability.dayISO, input.market.dates);
  const words = joined(input, ({ beforeEndOf }) => beforeEndOf);
  return { id: "durability", text: `${words} ${day}`, symbol: "hourglass" };
}

const MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");

/** Day, month and year in the order the market asks for. */
export function dayWords(dayISO: string, dates: LabelMarket["dates"]): string {
  const [year, month, day] = dayISO.split("-") as [string, string, string];
  if (dates === "day-month-year") return `${day}.${month}.${year}`;
  return `${MONTHS[Number(month) - 1]!} ${Number(day)}, ${year}`;
}

function responsibleParticular({ responsible }: LabelInput): Particular | undefined {
  if (!responsible) return undefined;
  const lines = [responsible.name, ...responsible.address.split("\n")];
  const text = lines.map((line) => line.trim().replace(/,$/, "")).filter((line) => line !== "");
  return { id: "responsible", text: text.join(", ") };
}

function originParticular({ market, words, madeIn }: LabelInput): Particular | undefined {
  if (!market.namesOrigin || market.countries.includes(madeIn.country)) return undefined;
  const sentences = words.map(({ origin }, at) =>
    fill(origin, { country: madeIn.names[at] ?? madeIn.country }),
  );
  return { id: "origin", text: sentences.join(" / ") };
}

function gapsOf(input: LabelInput): LabelGap[] {
  const { blend, market, responsible, contact, madeIn, facts, words, productName } = input;
  const parts = blend.parts.filter(({ share }) => share > 0);
  const nameOf = (id: string) =>
    parts.find(({ ingredient }) => ingredient.id === id)?.ingredient.name ?? id;
  const untold = market.namesFragranceAllergens ? inciOrder(blend).untold : [];
  const asksContact = market.asksContact && !market.countries.includes(madeIn.country);
  return [
    ...parts
      .filter(({ ingredient }) => ingredient.inci.trim() === "")
      .map(({ ingredient }) => labelGap("label.inci.missing", { subject: ingredient.name })),
    ...untold.map((id) => labelGap("label.composition.missing", { subject: nameOf(id) })),
    ...(facts ? openIn(facts, words, productName) : []),
    ...(market.asksResponsible && !responsible
      ? [labelGap("label.responsible.missing", { market: market.inSentence })]
      : []),
    ...(asksContact && !contact
      ? [labelGap("label.contact.missing", { market: market.inSentence })]
      : []),
  ];
}
