/**
 * Recipes whose writers said how the butter turned out: an evaluation, not a standard.
 *
 * Percent by mass as printed or converted; what is not fat (scent, vitamin) is left out and the rest brought to 100.
 * `volume` recipes were converted at equal density. Where no temperature was told, an ordinary room of 21 °C is
 * assumed; where words stood for one ("winter", "Ahmedabad heat"), our reading of them stands here. Recipes with wax
 * are left out, because the fat model has no term for wax. Trust: A the writer made it, B instructions with a stated
 * texture, C promotional articles.
 */
export interface ReportedTexture {
  readonly id: string;
  readonly percent: Readonly<Record<string, number>>;
  readonly whipped: boolean;
  readonly reported: "hard" | "firm" | "soft" | "too soft" | "melts" | "grainy";
  readonly celsius: number;
  /** What the writer said of the temperature, where our figure is a reading of it. */
  readonly told?: string;
  readonly trust: "A" | "B" | "C";
  readonly source: string;
}

const ROOM_C = 21;

export const REPORTED_TEXTURES: readonly ReportedTexture[] = [
  {
    id: "mango 40, shea 40",
    percent: { "mango-butter": 40, "shea-butter": 40, "sunflower-oil": 18 },
    whipped: true,
    reported: "soft",
    celsius: ROOM_C,
    trust: "A",
    source: "craft blog, 2009; sunflower or sesame oil; like whipped topping",
  },
  {
    id: "mango 75, fractionated coconut 22",
    percent: { "mango-butter": 75, "fractionated-coconut-oil": 22.5 },
    whipped: true,
    reported: "soft",
    celsius: ROOM_C,
    trust: "A",
    source: "aromatherapy blog, 2020; smooth and fluffy",
  },
  {
    id: "quarters, in the heat",
    percent: { "shea-butter": 25, "cocoa-butter": 25, "coconut-oil": 25, "sunflower-oil": 25 },
    whipped: true,
    reported: "soft",
    celsius: 30,
    told: "hot, humid southern US; contradicts the next one",
    trust: "A",
    source: "home blog; by volume",
  },
  {
    id: "quarters, above 24 °C",
    percent: { "shea-butter": 25, "cocoa-butter": 25, "coconut-oil": 25, "sweet-almond-oil": 25 },
    whipped: true,
    reported: "too soft",
    celsius: 28,
    told: "softens above 24 °C and needs the refrigerator; fluffy below",
    trust: "B",
    source: "news web page; by volume",
  },
  {
    id: "shea 50, coconut 25 (first)",
    percent: { "shea-butter": 50, "coconut-oil": 25, "sweet-almond-oil": 25 },
    whipped: true,
    reported: "soft",
    celsius: ROOM_C,
    trust: "C",
    source: "article; by volume",
  },
  {
    id: "shea 49, coconut 25 (second)",
    percent: { "shea-butter": 49.19, "coconut-oil": 24.81, "sweet-almond-oil": 23.94 },
    whipped: true,
    reported: "soft",
    celsius: ROOM_C,
    trust: "C",
    source: "article; grams and millilitres mixed",
  },
  {
    id: "shea 48, mango 24, jojoba 22",
    percent: {
      "shea-butter": 48.35,
      "mango-butter": 23.96,
      "jojoba-oil": 22.25,
      "tapioca-starch": 3.42,
    },
    whipped: true,
    reported: "soft",
    celsius: ROOM_C,
    trust: "C",
    source: "article; grams and millilitres mixed",
  },
  {
    id: "mango 44, kokum 22, jojoba 20",
    percent: {
      "mango-butter": 44.44,
      "kokum-butter": 22.41,
      "jojoba-oil": 20.45,
      "apricot-kernel-oil": 10.85,
    },
    whipped: true,
    reported: "soft",
    celsius: ROOM_C,
    trust: "C",
    source: "article; grams and millilitres mixed",
  },
  {
    id: "shea 94",
    percent: { "shea-butter": 93.75, "tapioca-starch": 5.62 },
    whipped: true,
    reported: "soft",
    celsius: 23,
    told: "whipped from 29 down to 23 °C; a naturally soft shea, others being nearly as hard as mango",
    trust: "A",
    source: "formulator's blog",
  },
  {
    id: "shea 35, oil 65",
    percent: { "shea-butter": 35, "sunflower-oil": 65 },
    whipped: true,
    reported: "soft",
    celsius: 18,
    told: "winter version; texture inferred",
    trust: "B",
    source: "personal page; sunflower or canola oil",
  },
  {
    id: "cocoa 61, coconut 29, cool room",
    percent: { "cocoa-butter": 60.9, "coconut-oil": 29.22, "safflower-oil": 9.88 },
    whipped: false,
    reported: "hard",
    celsius: 18,
    told: "very solid in a cool room, a thick paste in a warm one; took three days to set",
    trust: "A",
    source: "blog, 2013",
  },
  {
    id: "cocoa 25, shea 50, jojoba 25",
    percent: { "cocoa-butter": 25, "shea-butter": 50, "jojoba-oil": 25 },
    whipped: true,
    reported: "melts",
    celsius: 35,
    told: "oil after a few days in Ahmedabad heat",
    trust: "A",
    source: "question and answer page",
  },
  {
    id: "shea 80",
    percent: { "shea-butter": 80, "apricot-kernel-oil": 10, "jojoba-oil": 10 },
    whipped: true,
    reported: "grainy",
    celsius: ROOM_C,
    told: "temperature swings",
    trust: "A",
    source: "magazine blog, 2013; by volume",
  },
  {
    id: "shea 48, coconut 32",
    percent: {
      "shea-butter": 48.2,
      "coconut-oil": 32.04,
      "sweet-almond-oil": 16.16,
      "tapioca-starch": 2.27,
    },
    whipped: true,
    reported: "soft",
    celsius: ROOM_C,
    trust: "C",
    source: "article; grams and millilitres mixed",
  },
  {
    id: "shea 54, cocoa 18, coconut 18",
    percent: {
      "shea-butter": 53.64,
      "cocoa-butter": 17.88,
      "coconut-oil": 17.88,
      "jojoba-oil": 9.09,
    },
    whipped: true,
    reported: "soft",
    celsius: ROOM_C,
    trust: "C",
    source: "article; by volume",
  },
  {
    id: "shea 67, coconut 22",
    percent: {
      "shea-butter": 66.59,
      "coconut-oil": 22.33,
      "jojoba-oil": 10.58,
      "tapioca-starch": 0.51,
    },
    whipped: true,
    reported: "soft",
    celsius: ROOM_C,
    trust: "C",
    source: "article; jojoba or almond oil; grams and millilitres mixed",
  },
  {
    id: "shea 66, two oils",
    percent: { "shea-butter": 65.75, "jojoba-oil": 16.44, "avocado-oil": 16.44 },
    whipped: true,
    reported: "soft",
    celsius: ROOM_C,
    trust: "C",
    source: "article; by volume",
  },
  {
    id: "cocoa 17, olive 83",
    percent: { "cocoa-butter": 16.67, "olive-oil": 83.33 },
    whipped: false,
    reported: "too soft",
    celsius: ROOM_C,
    told: "a week on the counter, unseeded: specks of solid in a puddle of oil",
    trust: "A",
    source: "guide to cocoa butter and oil",
  },
  {
    id: "coconut alone",
    percent: { "coconut-oil": 100 },
    whipped: false,
    reported: "firm",
    celsius: 22,
    told: "low seventies Fahrenheit",
    trust: "A",
    source: "question page",
  },
  {
    id: "shea alone, winter",
    percent: { "shea-butter": 100 },
    whipped: false,
    reported: "hard",
    celsius: 15,
    told: "delivered in a northern winter; had to be chipped out",
    trust: "A",
    source: "makers' forum",
  },
];
