/**
 * What markets ask of a label of a leave-on cosmetic. A new market is a new row here. Each rule says where it is from
 * and how it reached us; what is from memory is to be held against the law before anyone leans on it.
 */
import { EU_COUNTRIES } from "#core/countries.ts";
import type { LabelMarket, ParticularId } from "#core/make/label-market.ts";
import type { Source } from "../sources.ts";

export interface MarketRules extends LabelMarket {
  readonly sources: readonly (Source & { readonly about: string })[];
}

const MM_PER_INCH = 25.4;
const CM2_PER_SQUARE_INCH = 6.4516;

const EU_ASKS: readonly ParticularId[] = [
  ...(["name", "purpose", "content", "ingredients", "precautions"] as const),
  ...(["durability", "batch", "responsible"] as const),
];

/** No law gives a height for cosmetics but "easily legible"; 0.9 mm is what food labels under 80 cm2 must keep. */
const LEGIBLE_X_MM = 0.9;

const EU_RULES = {
  inciStyle: "without-english-names",
  namesFragranceAllergens: true,
  content: "grams",
  contentFromG: 5,
  contentHeights: {
    by: "nominal-g",
    steps: [
      { upTo: 50, heightMm: 2 },
      { upTo: 200, heightMm: 3 },
      { upTo: 1000, heightMm: 4 },
      { upTo: null, heightMm: 6 },
    ],
  },
  leastXHeights: { by: "label-cm2", steps: [{ upTo: null, heightMm: LEGIBLE_X_MM }] },
  durability: { isRequired: true, openJarAboveMonths: 30 },
  dates: "day-month-year",
  asksResponsible: true,
  asksContact: false,
  namesOrigin: true,
  asks: EU_ASKS,
} as const satisfies Partial<LabelMarket>;

const ART_19 = "Regulation (EC) 1223/2009, Art. 19(1)";

const LEGIBLE_SOURCE = {
  about: "least type",
  citation:
    "Own choice: cosmetics law says easily legible and no height; Reg. (EU) 1169/2011 Art. 13(3) for small food packs",
  trust: "from memory",
} as const;

export const LABEL_MARKETS: readonly MarketRules[] = [
  {
    id: "eu",
    name: "European Union",
    inSentence: "the European Union",
    countries: EU_COUNTRIES,
    ...EU_RULES,
    sources: [
      {
        about: "particulars, responsible person, origin, 30 months",
        citation: `${ART_19}; national authority’s page and OJ L 342 p. 59`,
        trust: "published, copy read",
      },
      {
        about: "order of ingredients, the 1 % rule, colourants last",
        citation: `${ART_19}(g) and Art. 33`,
        trust: "from memory",
      },
      {
        about: "fragrance allergens above 0.001 %",
        citation: "Annex III as amended by Reg. (EU) 2023/1545",
        trust: "published, copy read",
      },
      {
        about: "height of the content’s figures",
        citation: "Directive 76/211/EEC, Annex I 3.1",
        trust: "from memory",
      },
      LEGIBLE_SOURCE,
    ],
  },
  {
    id: "gb",
    name: "Great Britain",
    inSentence: "Great Britain",
    countries: ["GB"],
    ...EU_RULES,
    sources: [
      {
        about: "particulars as in the EU, with a responsible person in the UK",
        citation: "UK statutory guidance on Regulation (EC) 1223/2009 as retained, May 2023",
        trust: "published text read",
        note: "A label with an EU responsible person alone is tolerated for seven years from 1 January 2021.",
      },
      {
        about: "fragrance allergens",
        citation: "Nothing found says that the longer list of 2023 holds in Great Britain",
        trust: "published, copy read",
        note: "The longer list is named all the same: more may be named than must be.",
      },
      {
        about: "height of the content’s figures",
        citation: "Weights and Measures (Packaged Goods) Regulations 2006, as Directive 76/211/EEC",
        trust: "from memory",
      },
      LEGIBLE_SOURCE,
    ],
  },
  {
    id: "us",
    name: "United States",
    inSentence: "the United States",
    countries: ["US"],
    inciStyle: "with-english-names",
    namesFragranceAllergens: false,
    content: "ounces-and-grams",
    contentFromG: 0,
    contentHeights: {
      by: "panel-cm2",
      steps: [
        { upTo: 5 * CM2_PER_SQUARE_INCH, heightMm: MM_PER_INCH / 16 },
        { upTo: 25 * CM2_PER_SQUARE_INCH, heightMm: MM_PER_INCH / 8 },
        { upTo: 100 * CM2_PER_SQUARE_INCH, heightMm: (3 * MM_PER_INCH) / 16 },
        { upTo: 400 * CM2_PER_SQUARE_INCH, heightMm: MM_PER_INCH / 4 },
        { upTo: null, heightMm: MM_PER_INCH / 2 },
      ],
    },
    leastXHeights: {
      by: "label-cm2",
      steps: [
        { upTo: 12 * CM2_PER_SQUARE_INCH, heightMm: MM_PER_INCH / 32 },
        { upTo: null, heightMm: MM_PER_INCH / 16 },
      ],
    },
    durability: { isRequired: false, openJarAboveMonths: null },
    dates: "month-word-day-year",
    asksResponsible: true,
    asksContact: true,
    namesOrigin: true,
    asks: ["name", "purpose", "content", "ingredients", "batch", "responsible"],
    sources: [
      {
        about: "ingredients in descending order, letters of 1/16 inch",
        citation: "21 CFR 701.3(a), (b)",
        trust: "published text read",
        note: "Edition of 1996. Measured on the small x, the careful reading.",
      },
      {
        about: "1 % or less in any order; letters of 1/32 inch under 12 square inches",
        citation: "21 CFR 701.3(f), (p)",
        trust: "from memory",
      },
      {
        about: "identity; name and place of business",
        citation: "21 CFR 701.11, 701.12",
        trust: "from memory",
      },
      {
        about:
          "net weight in ounces and grams, height by area of the display panel, its lowest 30 %",
        citation: "21 CFR 701.13; 16 CFR 500 has the same heights for other goods",
        trust: "from memory",
      },
      {
        about: "contact for reports of reactions",
        citation: "FD&C Act sec. 609(a) (MoCRA)",
        trust: "from memory",
      },
      {
        about: "country of origin on what is imported",
        citation: "19 USC 1304",
        trust: "from memory",
      },
      {
        about: "fragrance allergens",
        citation: "No rule in force was found (RIN 0910-AI90)",
        trust: "published text read",
      },
    ],
  },
];

/** A market by its id; nothing when it is none of ours. */
export function labelMarket(id: string): MarketRules | undefined {
  return LABEL_MARKETS.find((each) => each.id === id);
}
