/**
 * Why something is done about an order, as whoever does it writes it down.
 */
export const WHY_LONGEST = 300;

/** What stands against a reason; empty when it may be written down. */
export function whyFault(why: string): string {
  if (why !== "" && why.length <= WHY_LONGEST) return "";
  return `Write down why, in 1 to ${WHY_LONGEST} characters. Nothing was changed.`;
}
