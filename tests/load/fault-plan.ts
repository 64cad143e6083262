/**
 * What goes wrong when: one kind of fault after another, each for a while and with a calm between, so that every error
 * can be told apart by its time. All processes follow the same plan by the same clock.
 */

export const FAULT_KINDS = [
  "till-errors",
  "mail-refused",
  "database-busy",
  "host-shop-down",
  "requests-aborted",
  "till-silent",
  "slow-clients",
] as const;
export type FaultKind = (typeof FAULT_KINDS)[number];

export const FAULT_WORDS: Readonly<Record<FaultKind, string>> = {
  "till-errors": "the payment service fails or hangs up on half of its calls",
  "mail-refused": "the mail server refuses half of the mails for now",
  "database-busy": "another program holds the database, up to longer than the shop waits",
  "host-shop-down": "the host shop takes no events in",
  "requests-aborted": "one customer in eight leaves before the answer",
  "till-silent": "the payment service is silent on most of its calls",
  "slow-clients": "clients that send and read byte by byte, or say nothing",
};

/** Moments in ms since 1970. */
export interface FaultSpan {
  readonly kind: FaultKind;
  readonly from: number;
  readonly to: number;
}

/** A fault every minute when there is time, and each kind at least once in most of a short try. */
const PERIOD_MOST_MS = 60_000;
const PERIOD_LEAST_MS = 9_000;
/** Of its period a fault lasts this part; what it left behind has the rest to pass. */
const FAULT_PART = 0.45;

/** @returns spans in order, the first after a calm of half a period, none reaching beyond the end */
export function planFaults(from: number, to: number): FaultSpan[] {
  const inFull = (to - from) / (2 * FAULT_KINDS.length);
  const period = Math.min(PERIOD_MOST_MS, Math.max(PERIOD_LEAST_MS, inFull));
  const spans: FaultSpan[] = [];
  for (let at = from + period / 2; at + period <= to; at += period) {
    const kind = FAULT_KINDS[spans.length % FAULT_KINDS.length]!;
    spans.push({ kind, from: at, to: at + period * FAULT_PART });
  }
  return spans;
}

/** Whether a kind of fault is on now. */
export function isOn(plan: readonly FaultSpan[], kind: FaultKind, now = Date.now()): boolean {
  return plan.some((span) => span.kind === kind && span.from <= now && now < span.to);
}

/** What a fault has left behind takes this long to pass [ms] */
const PASSES_MS = 10_000;

/** Whether no fault is on, and none has been of late. */
export function isCalm(plan: readonly FaultSpan[], now: number): boolean {
  return !plan.some(({ from, to }) => from <= now && now < to + PASSES_MS);
}

/** When the whole first round of faults is over; the end of the last when there is less than a round. */
export function endOfFirstRound(plan: readonly FaultSpan[]): number | undefined {
  return plan[Math.min(plan.length, FAULT_KINDS.length) - 1]?.to;
}
