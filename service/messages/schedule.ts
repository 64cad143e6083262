/**
 * When a message that was not taken is offered again: the ten attempts the Standard Webhooks specification proposes,
 * for mails as well.
 */

const MINUTE_S = 60;
const HOUR_S = 3600;
const DAY_S = 24 * HOUR_S;

/** Waits after the first, second ... attempt [s] */
const WAITS_S = [
  5,
  5 * MINUTE_S,
  30 * MINUTE_S,
  ...[2, 5, 10, 14, 20, 24].map((hours) => hours * HOUR_S),
] as const;

export const ATTEMPTS_MOST = WAITS_S.length + 1;

/** Waits are longer by up to this part, so that what failed together does not come back together [C] */
const JITTER_MOST = 0.1;
/** A receiver may ask for patience, but not for more than this. */
const PATIENCE_MOST_S = DAY_S;

/** An address that took nothing in for this long is switched off [C]; the whole schedule takes 75.6 hours. */
export const FAILING_MOST_S = 3 * DAY_S;

/**
 * When to try again.
 * @param message its id is random, so the jitter is taken from it; attempts made so far
 * @param now seconds since 1970
 * @param retryAfter header of the answer: seconds or a date (RFC 9110 section 10.2.3)
 * @returns seconds since 1970; nothing when every attempt was made
 */
export function nextAttempt(
  { id, attempts }: { readonly id: string; readonly attempts: number },
  now: number,
  retryAfter?: string,
): number | undefined {
  const wait = WAITS_S[attempts - 1];
  if (wait === undefined) return undefined;
  const jitter = (Number.parseInt(id.slice(-4), 16) / 0x1_00_00) * JITTER_MOST;
  const asked = Math.min(askedWait(retryAfter, now), PATIENCE_MOST_S);
  return now + Math.max(Math.ceil(wait * (1 + jitter)), asked);
}

function askedWait(retryAfter: string | undefined, now: number): number {
  const text = retryAfter?.trim() ?? "";
  if (/^\d{1,9}$/.test(text)) return Number(text);
  // Dates of HTTP end in GMT; the platform would read "-5" as a year.
  const date = text.endsWith("GMT") ? Date.parse(text) : Number.NaN;
  return Number.isNaN(date) ? 0 : Math.max(0, Math.ceil(date / 1000) - now);
}
