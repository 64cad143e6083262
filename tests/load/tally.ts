/**
 * What became of every request, by kind and by spans of ten seconds.
 */
import type { LoadError } from "./explain.ts";
import { Latencies, type Times, timesOf } from "./latencies.ts";

export const SPAN_MS = 10_000;
/** Errors kept one by one; more than this and the run has failed whatever they are. */
const ERRORS_MOST = 20_000;

export interface SpanTimes extends Times {
  /** Begin of the span [ms since 1970] */
  readonly from: number;
}

export interface TallyReport {
  readonly kinds: readonly {
    readonly kind: string;
    readonly whole: Times;
    /** Only while no fault was on or had just been. */
    readonly calm: Times;
    readonly spans: readonly SpanTimes[];
  }[];
  readonly errors: readonly LoadError[];
  readonly errorsInAll: number;
  /** Requests that were broken off by whoever sent them. */
  readonly aborted: number;
  /** Sent once more, because the connection was closed between two requests. */
  readonly sentAgain: number;
}

export class Tally {
  readonly #spans = new Map<string, Map<number, Latencies>>();
  readonly #calm = new Map<string, Latencies>();
  readonly #errors: LoadError[] = [];
  #errorsInAll = 0;
  aborted = 0;
  sentAgain = 0;

  /** @param from when it was meant to be asked [ms since 1970] */
  answered(kind: string, from: number, ms: number, isCalm: boolean): void {
    const calm = this.#calm.get(kind) ?? new Latencies();
    this.#calm.set(kind, calm);
    if (isCalm) calm.add(ms);
    const spans = this.#spans.get(kind) ?? new Map<number, Latencies>();
    this.#spans.set(kind, spans);
    const at = Math.floor(from / SPAN_MS) * SPAN_MS;
    const latencies = spans.get(at) ?? new Latencies();
    spans.set(at, latencies);
    latencies.add(ms);
  }

  failed(error: LoadError): void {
    this.#errorsInAll += 1;
    if (this.#errors.length < ERRORS_MOST) this.#errors.push(error);
  }

  report(): TallyReport {
    const kinds = [...this.#spans].map(([kind, spans]) => {
      const whole = new Latencies();
      for (const each of spans.values()) whole.join(each);
      const inOrder = [...spans].sort(([one], [other]) => one - other);
      return {
        ...{ kind, whole: timesOf(whole), calm: timesOf(this.#calm.get(kind)!) },
        spans: inOrder.map(([from, each]) => ({ from, ...timesOf(each) })),
      };
    });
    const { aborted, sentAgain } = this;
    return { kinds, errors: this.#errors, errorsInAll: this.#errorsInAll, aborted, sentAgain };
  }
}
