/**
 * Curves over time: panels one below the other on one time axis, with the faults as bands behind them.
 */
import {
  TEXT_PX,
  curve,
  decades,
  escaped,
  legend,
  line,
  picture,
  place,
  text,
} from "../helpers/drawing.ts";
import { FAULT_KINDS, FAULT_WORDS, type FaultKind, type FaultSpan } from "./fault-plan.ts";

/** [ms since 1970, value] */
export type Point = readonly [at: number, value: number];

export interface Panel {
  readonly name: string;
  readonly unit: string;
  /** One for each kind of line, in their order; each has points. */
  readonly lines: readonly (readonly Point[])[];
}

export interface TimePlot {
  readonly title: string;
  /** What the lines of every panel are, the most important last. */
  readonly kinds: readonly string[];
  /** Decades instead of equal steps from nothing, where the least is far below the greatest. */
  readonly inDecades: boolean;
  readonly begin: number;
  readonly end: number;
  readonly faults: readonly FaultSpan[];
  readonly panels: readonly Panel[];
}

interface Scale {
  readonly ticks: readonly number[];
  /** Place between the ends, from 0 to 1. */
  readonly at: (value: number) => number;
}

const WIDTH = 960;
const [LEFT, RIGHT, TOP] = [66, 18, 126] as const;
const [HIGH, BETWEEN] = [112, 52] as const;
const LETTERS = "abcdefg";

export function timePlot(plot: TimePlot): string {
  const { title, kinds, panels } = plot;
  const height = TOP + panels.length * (HIGH + BETWEEN) - 8;
  const letters = FAULT_KINDS.map((kind) => `${letterOf(kind)} ${kind}`).join(", ");
  return picture({ title, words: `Bands are faults: ${letters}.`, width: WIDTH, height }, [
    ...legend(kinds, 80),
    ...panels.flatMap((panel, at) => panelAt(plot, panel, TOP + at * (HIGH + BETWEEN))),
  ]);
}

function panelAt(plot: TimePlot, { name, unit, lines }: Panel, top: number): string[] {
  const { begin, end, faults, kinds, inDecades } = plot;
  const bottom = top + HIGH;
  const values = lines.flatMap((points) => points.map(([, value]) => value));
  const up = inDecades ? decades(values) : stepsTo(Math.max(...values));
  const x = (at: number) => LEFT + ((at - begin) / (end - begin)) * (WIDTH - LEFT - RIGHT);
  const y = (value: number) => bottom - up.at(value) * HIGH;
  return [
    text(LEFT, top - 10, `${name} [${unit}]`, "name"),
    ...faults.flatMap(({ kind, from, to }) => {
      const wide = x(to) - x(from);
      const box = `x="${place(x(from))}" y="${top}" width="${place(wide)}" height="${HIGH}"`;
      return [
        `<rect class="band" ${box}><title>${escaped(FAULT_WORDS[kind])}</title></rect>`,
        text(x(from) + wide / 2, top + TEXT_PX, letterOf(kind), "soft", "middle"),
      ];
    }),
    ...up.ticks.flatMap((tick) => [
      line(LEFT, y(tick), WIDTH - RIGHT, y(tick), "grid"),
      text(LEFT - 8, y(tick) + TEXT_PX / 3, say(tick), "soft", "end"),
    ]),
    ...lines.map((points, kind) => {
      const places = points.map(([at, value]) => `${place(x(at))} ${place(y(value))}`);
      return curve(kind, kinds.length, `M${places.join("L")}`);
    }),
    ...minutesOf(begin, end).map((minute) => {
      const words = minute === 0 ? "0 min" : say(minute);
      return text(x(begin + minute * 60_000), bottom + 18, words, "soft", "middle");
    }),
  ];
}

/** Three to six round numbers from nothing to the greatest value. */
function stepsTo(greatest: number): Scale {
  const rough = (greatest || 1) / 4;
  const decade = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((by) => by * decade).find((each) => each >= rough)!;
  const count = Math.ceil((greatest || 1) / step);
  return {
    ticks: Array.from({ length: count + 1 }, (_, at) => at * step),
    at: (value) => value / (count * step),
  };
}

function minutesOf(begin: number, end: number): number[] {
  const whole = (end - begin) / 60_000;
  const step = [0.5, 1, 2, 5, 10].find((each) => whole / each <= 10) ?? 20;
  return Array.from({ length: Math.floor(whole / step) + 1 }, (_, at) => at * step);
}

const letterOf = (kind: FaultKind) => LETTERS[FAULT_KINDS.indexOf(kind)]!;
const say = (value: number) => String(Number(value.toPrecision(3)));
