/**
 * Times of answers, counted in classes of which each is a fiftieth wider than the one below: hours of them take no more
 * room than a minute, so that whoever counts does not slow down whoever is counted.
 */

/** A time read back is off by at most this part of it. */
export const CLASS_WIDTH = 0.02;
const STEP = Math.log1p(CLASS_WIDTH);
/** Whatever is quicker counts as this quick [ms] */
const LEAST_MS = 0.05;

export class Latencies {
  readonly #classes = new Map<number, number>();
  #count = 0;
  #worstMs = 0;

  get count(): number {
    return this.#count;
  }

  get worstMs(): number {
    return this.#worstMs;
  }

  add(ms: number): void {
    const at = Math.ceil(Math.log(Math.max(ms, LEAST_MS) / LEAST_MS) / STEP);
    this.#classes.set(at, (this.#classes.get(at) ?? 0) + 1);
    this.#count += 1;
    this.#worstMs = Math.max(this.#worstMs, ms);
  }

  /** Count in what another has counted. */
  join(other: Latencies): void {
    for (const [at, n] of other.#classes) this.#classes.set(at, (this.#classes.get(at) ?? 0) + n);
    this.#count += other.#count;
    this.#worstMs = Math.max(this.#worstMs, other.#worstMs);
  }

  /**
   * The time that a share of the answers kept.
   * @param share from 0 to 1
   * @returns upper end of its class [ms]; nothing when nothing was counted
   */
  quantile(share: number): number | undefined {
    const wanted = Math.max(1, Math.ceil(this.#count * share));
    let sum = 0;
    for (const [at, n] of [...this.#classes].sort(([one], [other]) => one - other)) {
      sum += n;
      if (sum >= wanted) return Math.min(LEAST_MS * Math.exp(at * STEP), this.#worstMs);
    }
    return undefined;
  }
}

export interface Times {
  readonly count: number;
  /** [ms] */
  readonly p50: number;
  readonly p95: number;
  readonly p99: number;
  readonly worst: number;
}

export function timesOf(latencies: Latencies): Times {
  const at = (share: number) => latencies.quantile(share) ?? 0;
  const { count, worstMs } = latencies;
  return { count, p50: at(0.5), p95: at(0.95), p99: at(0.99), worst: worstMs };
}
