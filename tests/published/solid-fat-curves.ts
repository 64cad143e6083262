/**
 * Solid fat curves to compare with [percent by mass at C], with the words of their source.
 *
 * `recalled` curves are typical values from memory, plus or minus 5 points (shea, mango, kokum plus or minus 10), for
 * which no page was found: they show where the model stands, and prove nothing. `read` curves were read.
 */
export interface ReferenceCurve {
  readonly name: string;
  /** Id of the library's ingredient that is compared with it. */
  readonly ingredient: string;
  readonly kind: "read" | "recalled";
  readonly source: string;
  readonly points: readonly (readonly [celsius: number, solidFat: number])[];
}

const COCOA_SOURCE = "from memory of Shukla 1995 and Lipp & Anklam 1998 part B; tempered";

export const REFERENCE_CURVES: readonly ReferenceCurve[] = [
  {
    name: "murumuru butter",
    ingredient: "murumuru-butter",
    kind: "read",
    source:
      "preprint on Amazonian fats (Authorea 435323), section 3.3: about 80, 2 to 4, and 0; NMR",
    points: [
      [10, 80],
      [33.3, 3],
      [35, 0],
    ],
  },
  {
    name: "tucumã kernel fat",
    ingredient: "tucuma-butter",
    kind: "read",
    source: "the same preprint and section: quite close to murumuru at 10 °C, 2 to 4, and liquid",
    points: [
      [10, 80],
      [33.3, 3],
      [35, 0],
    ],
  },
  {
    name: "cocoa butter, Ghana",
    ingredient: "cocoa-butter",
    kind: "recalled",
    source: COCOA_SOURCE,
    points: [
      [20, 76],
      [25, 69.6],
      [30, 45],
      [35, 1.1],
    ],
  },
  {
    name: "palm oil",
    ingredient: "palm-oil",
    kind: "recalled",
    source: "from memory of Siew et al. 1993",
    points: [
      [10, 50],
      [15, 35],
      [20, 22.5],
      [25, 13.5],
      [30, 9.2],
      [35, 6.6],
      [40, 4],
    ],
  },
  {
    name: "palm kernel oil",
    ingredient: "palm-kernel-oil",
    kind: "recalled",
    source: "from memory of Siew & Berger 1981",
    points: [
      [5, 72.8],
      [10, 67.6],
      [15, 55.7],
      [20, 40.1],
      [25, 17.1],
      [30, 0],
    ],
  },
  {
    name: "coconut oil",
    ingredient: "coconut-oil",
    kind: "recalled",
    source: "from memory, typical; our lauric constants were fitted to it",
    points: [
      [10, 80],
      [15, 58],
      [20, 35],
      [25, 1],
    ],
  },
  {
    name: "shea butter",
    ingredient: "shea-butter",
    kind: "recalled",
    source: "from memory, low confidence, wide natural spread",
    points: [
      [10, 55],
      [20, 38],
      [25, 29],
      [30, 20],
      [35, 4],
    ],
  },
  {
    name: "mango butter",
    ingredient: "mango-butter",
    kind: "recalled",
    source: "from memory, low confidence",
    points: [
      [20, 55],
      [25, 45],
      [30, 30],
      [35, 3],
    ],
  },
  {
    name: "kokum butter",
    ingredient: "kokum-butter",
    kind: "recalled",
    source: "from memory, low confidence",
    points: [
      [20, 90],
      [30, 82],
      [35, 50],
    ],
  },
];

/**
 * Main triacylglycerols of cocoa butters at the ends of the ranges that were read (Scientific Reports 2016, 6:32050);
 * that the low ends are Brazil's and the high ones Malaysia's is recalled. The rest is shared out as in the library's.
 */
export const COCOA_ENDS: Readonly<Record<"Brazil" | "Malaysia", Readonly<Record<string, number>>>> =
  {
    Brazil: { POP: 13.6, POS: 33.7, SOS: 23.8 },
    Malaysia: { POP: 15.5, POS: 40.5, SOS: 31.2 },
  };

/** Cocoa butters of other origins, recalled like Ghana's. */
export const COCOA_ORIGINS: Readonly<Record<string, Readonly<Record<number, number>>>> = {
  Brazil: { 20: 62.6, 25: 53.3, 30: 23.3, 35: 1 },
  "Ivory Coast": { 20: 75.1, 25: 66.7, 30: 42.8, 35: 0 },
  Ghana: { 20: 76, 25: 69.6, 30: 45, 35: 1.1 },
  Malaysia: { 20: 82.6, 25: 77.1, 30: 57.7, 35: 2.6 },
};
