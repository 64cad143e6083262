/**
 * The label part of a shop's settings: where jars are sold and in which languages, sizes of labels, how long a jar
 * lasts; and what a product says instead.
 */
import { type LabelFacts, MONTHS_FROM } from "#core/compose/product.ts";
import { CARRIES } from "#core/make/label-carries.ts";
import { LABEL_MARKETS, labelMarket } from "#data/library/label-markets.ts";
import { FIRST_SIZES } from "#data/library/label-sizes.ts";
import { LABEL_LANGUAGES, LABEL_WORDS, type LabelLanguage } from "#data/library/label-words.ts";
import * as z from "zod";

/** What a form has room for. */
export const SIZES_MOST = 6;
/** Against slips of the pen; common practice, no source. */
export const SIDE_MM = { least: 20, greatest: 190 } as const;
/** Against slips of the pen; own choice. */
export const MONTHS_MOST = 60;

const PersonShape = z.strictObject({ name: z.string().min(1), address: z.string().min(1) });

const months = z.int().min(1).max(MONTHS_MOST).exactOptional();

export const LabelSettingsShape = z.strictObject({
  markets: z
    .array(
      z.strictObject({
        id: z.enum(LABEL_MARKETS.map(({ id }) => id)),
        languages: z.array(z.enum(LABEL_LANGUAGES)).min(1),
        /** Who answers for the product there, when it is not the shop's own. */
        responsible: PersonShape.exactOptional(),
      }),
    )
    .min(1),
  sizes: z
    .array(
      z.strictObject({
        id: z.string().min(1),
        name: z.string().min(1),
        widthMm: z.number().min(SIDE_MM.least).max(SIDE_MM.greatest),
        heightMm: z.number().min(SIDE_MM.least).max(SIDE_MM.greatest),
        carries: z.enum(CARRIES),
        panelCm2: z.number().positive().exactOptional(),
      }),
    )
    .min(1)
    .max(SIZES_MOST),
  /** How long a closed jar lasts, and an opened one, as the maker found it. */
  shelfLifeMonths: months,
  openMonths: months,
  /** Where reactions are reported to: phone, e-mail or web address. */
  contact: z.string().min(1).exactOptional(),
  /** Sentences of the maker's own behind the precautions. */
  precautions: z.string().min(1).exactOptional(),
});

const byLanguage = z.partialRecord(z.enum(LABEL_LANGUAGES), z.string().min(1)).exactOptional();

export const LabelFactsShape: z.ZodType<LabelFacts> = z.strictObject({
  purpose: byLanguage,
  precautions: byLanguage,
  shelfLifeMonths: months,
  openMonths: months,
  monthsFrom: z.enum(MONTHS_FROM).exactOptional(),
});

export type LabelSettings = z.infer<typeof LabelSettingsShape>;
export type MarketSettings = LabelSettings["markets"][number];

/** The settings of a shop; until they are saved the market and language of the shop itself, and sizes to begin with. */
export function labelSettingsOf(
  { label, country }: { readonly label?: LabelSettings | undefined; readonly country: string },
  locale: string,
): LabelSettings {
  if (label) return label;
  const { id } =
    LABEL_MARKETS.find(({ countries }) => countries.includes(country)) ?? labelMarket("eu")!;
  const language = locale.toLowerCase().split("-")[0]!;
  const languages: LabelLanguage[] = [language in LABEL_WORDS ? (language as LabelLanguage) : "en"];
  return { markets: [{ id, languages }], sizes: FIRST_SIZES.map((size) => ({ ...size })) };
}

/** Every language the labels of a shop are printed in, in the order of the library. */
export function languagesOf({ markets }: Pick<LabelSettings, "markets">): LabelLanguage[] {
  const printed = new Set(markets.flatMap(({ languages }) => languages));
  return LABEL_LANGUAGES.filter((language) => printed.has(language));
}
