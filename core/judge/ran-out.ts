/**
 * What has run out at the maker's: no jar that holds it can be ordered until there is some again.
 */
import type { Blend } from "../blend.ts";
import { type Finding, finding } from "../finding.ts";

/** One finding for each ingredient of the blend that has run out. */
export function ranOutFindings({ parts }: Blend): Finding[] {
  return parts
    .filter(({ ingredient, share }) => ingredient.ranOut && share > 0)
    .map(({ ingredient }) => finding("compose.ingredient.ran-out", ingredient.id));
}
