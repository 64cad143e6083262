/**
 * Bars that lie, one below the other, with what was promised as a mark across each.
 */
import { TEXT_PX, line, picture, place, text } from "../helpers/drawing.ts";

export interface Bar {
  readonly name: string;
  readonly value: number;
  /** What stands behind the bar. */
  readonly words: string;
  /** Where it should reach to. */
  readonly promised?: number;
  /** Ours; else a limit beside it. */
  readonly isMain: boolean;
}

export interface BarPlot {
  readonly title: string;
  readonly words: string;
  readonly ticks: readonly { readonly at: number; readonly name: string }[];
  readonly bars: readonly Bar[];
}

const WIDTH = 880;
const [TOP, BOTTOM, BEFORE, BEHIND] = [78, 42, 310, 180] as const;
const [HIGH, GAP] = [22, 16] as const;

export function barPlot({ title, words, ticks, bars }: BarPlot): string {
  const height = TOP + bars.length * (HIGH + GAP) + BOTTOM;
  const most = ticks.at(-1)!.at;
  const to = (value: number) => BEFORE + (value / most) * (WIDTH - BEFORE - BEHIND);
  const ground = height - BOTTOM;
  const marks = ticks.flatMap(({ at, name }) => [
    line(to(at), TOP - 6, to(at), ground, at === 0 ? "axis" : "grid"),
    text(to(at), ground + 20, name, "soft", "middle"),
  ]);
  for (const [at, bar] of bars.entries()) {
    const y = TOP + at * (HIGH + GAP);
    const base = y + HIGH / 2 + TEXT_PX / 3;
    const wide = place(Math.max(1, to(Math.min(bar.value, most)) - BEFORE));
    const size = `x="${BEFORE}" y="${y}" width="${wide}" height="${HIGH}"`;
    marks.push(text(BEFORE - 12, base, bar.name, bar.isMain ? "" : "soft", "end"));
    marks.push(`<rect ${size} class="${bar.isMain ? "main" : "less"} bar"/>`);
    if (bar.promised !== undefined) {
      const x = to(bar.promised);
      marks.push(line(x, y - 5, x, y + HIGH + 5, "mark"));
      marks.push(`<path d="M${place(x - 5)} ${y - 9}h10l-5 7z" class="mark"/>`);
    }
    const behind = Math.max(to(Math.min(bar.value, most)), to(bar.promised ?? 0)) + 10;
    marks.push(text(behind, base, bar.words));
  }
  return picture({ title, words, width: WIDTH, height }, marks);
}
