/**
 * How far below its label one jar may be, by law, in integer milligrams.
 *
 * EU and UK: Council Directive 76/211/EEC, Annex I 2.4, tolerable negative error; rows to 1 000 g read in the text, the
 * last row from memory. A per cent is rounded up to the next 0.1 g (Annex I 2.5, from memory).
 * US: NIST Handbook 133, Appendix A, Table 2-5, maximum allowable variation of packages labelled by weight; from
 * memory, with four values checked against texts that quote the table.
 */

interface Row {
  /** Greatest nominal quantity of the row [mg] */
  readonly upToMg: number;
  readonly mg?: number;
  /** [thousandths of the nominal quantity] */
  readonly perMille?: number;
}

const TOLERABLE_ERRORS: readonly Row[] = [
  { upToMg: 50_000, perMille: 90 },
  { upToMg: 100_000, mg: 4500 },
  { upToMg: 200_000, perMille: 45 },
  { upToMg: 300_000, mg: 9000 },
  { upToMg: 500_000, perMille: 30 },
  { upToMg: 1_000_000, mg: 15_000 },
  { upToMg: 10_000_000, perMille: 15 },
];
/** The Directive's scope begins here [mg] */
const LEAST_TOLERABLE_MG = 5000;

const ALLOWABLE_VARIATIONS: readonly Row[] = [
  { upToMg: 36_000, perMille: 100 },
  { upToMg: 54_000, mg: 3600 },
  { upToMg: 81_000, mg: 5400 },
  { upToMg: 117_000, mg: 7200 },
  { upToMg: 154_000, mg: 9000 },
  { upToMg: 208_000, mg: 10_800 },
  { upToMg: 263_000, mg: 12_700 },
  { upToMg: 317_000, mg: 14_500 },
  { upToMg: 381_000, mg: 16_300 },
  { upToMg: 426_000, mg: 18_100 },
  { upToMg: 489_000, mg: 19_900 },
  { upToMg: 571_000, mg: 21_700 },
  { upToMg: 635_000, mg: 23_500 },
  { upToMg: 698_000, mg: 25_400 },
  { upToMg: 771_000, mg: 27_200 },
  { upToMg: 852_000, mg: 29_000 },
  { upToMg: 970_000, mg: 31_700 },
  { upToMg: 1_120_000, mg: 35_300 },
];

/**
 * Tolerable negative error of the EU and UK rule.
 * @param nominalMg quantity on the label [mg]
 * @returns [mg]; nothing outside 5 g to 10 kg, where the rule has no figure
 */
export function tolerableErrorMg(nominalMg: number): number | undefined {
  if (nominalMg < LEAST_TOLERABLE_MG) return undefined;
  const error = errorIn(TOLERABLE_ERRORS, nominalMg);
  return error === undefined ? undefined : Math.ceil(error / 100) * 100;
}

/**
 * Maximum allowable variation of the US rule.
 * @param nominalMg quantity on the label [mg]
 * @returns [mg]; nothing above 1.12 kg, where the table kept here ends
 */
export function allowableVariationMg(nominalMg: number): number | undefined {
  return nominalMg > 0 ? errorIn(ALLOWABLE_VARIATIONS, nominalMg) : undefined;
}

function errorIn(rows: readonly Row[], nominalMg: number): number | undefined {
  const row = rows.find(({ upToMg }) => nominalMg <= upToMg);
  if (!row) return undefined;
  return row.mg ?? (nominalMg * row.perMille!) / 1000;
}
