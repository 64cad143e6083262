/**
 * Split a whole into integer parts without losing a unit.
 *
 * Method: largest remainder (Hamilton). Each part gets the floor of its exact claim; the units left over go one by
 * one to the largest remainders, earlier parts first on a tie. Used for shares, for grams on the scale and for money,
 * so that the sum is kept everywhere by the same rule.
 */

/**
 * @param whole non-negative integer to split
 * @param claims non-negative integers; a part's due is whole x claim / sum of claims
 * @returns integers in the order of the claims that sum to `whole`
 * @throws when the whole or a claim is not a non-negative safe integer, or all claims are zero while the whole is not
 */
export function apportion(whole: number, claims: readonly number[]): number[] {
  if (![whole, ...claims].every((each) => Number.isSafeInteger(each) && each >= 0)) {
    throw new RangeError("apportion takes non-negative whole numbers");
  }
  const total = claims.reduce((sum, claim) => sum + BigInt(claim), 0n);
  if (total === 0n) {
    if (whole === 0) return claims.map(() => 0);
    throw new RangeError("nothing claims a part of the whole");
  }
  const dues = claims.map((claim, at) => {
    const exact = BigInt(whole) * BigInt(claim);
    return { at, part: Number(exact / total), remainder: exact % total };
  });
  let left = whole - dues.reduce((sum, { part }) => sum + part, 0);
  const parts = dues.map(({ part }) => part);
  for (const { at } of [...dues].sort(byLargestRemainder)) {
    if (left === 0) break;
    parts[at]! += 1;
    left -= 1;
  }
  return parts;
}

function byLargestRemainder(
  one: { at: number; remainder: bigint },
  other: { at: number; remainder: bigint },
): number {
  if (one.remainder === other.remainder) return one.at - other.at;
  return one.remainder > other.remainder ? -1 : 1;
}
