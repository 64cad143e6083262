/**
 * How sure a sampled share is: Wilson's interval at 95 % (Wilson 1927, J Am Stat Assoc 22:209; formula from memory).
 *
 * It is for independent draws. Ours take the same number from every oil combination and spread them evenly, and both
 * can only narrow the scatter on the whole, so the interval holds at least as often as it says.
 */
export interface Estimate {
  /** [-] */
  readonly share: number;
  /** Ends of the interval; equal to the share when it is known exactly. */
  readonly low: number;
  readonly high: number;
  /** Blends drawn; 0 when it is known without. */
  readonly drawn: number;
  /**
   * How it is known: sampled with a 95 % Wilson interval; counted exactly; or proven that none or all pass
   * (`proof.ts`).
   */
  readonly known: "sampled" | "counted" | "proven";
}

/** Normal quantile of 97.5 %. */
const Z = 1.959964;

/**
 * @param hits draws that count
 * @param drawn all draws, above 0
 */
export function sampled(hits: number, drawn: number): Estimate {
  const share = hits / drawn;
  const z2 = Z ** 2 / drawn;
  const middle = (share + z2 / 2) / (1 + z2);
  const half = (Z * Math.sqrt((share * (1 - share) + z2 / 4) / drawn)) / (1 + z2);
  return {
    share,
    low: hits === 0 ? 0 : Math.max(0, middle - half),
    high: hits === drawn ? 1 : Math.min(1, middle + half),
    drawn,
    known: "sampled",
  };
}

/** A share that is known exactly. */
export function exactly(share: number, known: "counted" | "proven"): Estimate {
  return { share, low: share, high: share, drawn: 0, known };
}
