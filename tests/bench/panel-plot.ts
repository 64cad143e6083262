/**
 * Small pictures side by side on the same scales, both logarithmic: one for each thing that grows, a line for each
 * figure of it.
 */
import { TEXT_PX, curve, decades, legend, line, picture, place, text } from "../helpers/drawing.ts";

export interface Panel {
  readonly name: string;
  /** One for each kind of line, in their order. */
  readonly lines: readonly (readonly number[])[];
}

export interface PanelPlot {
  readonly title: string;
  readonly words: string;
  /** Where the points of every line stand, and what they are called. */
  readonly along: readonly { readonly at: number; readonly name: string }[];
  readonly alongWords: string;
  /** Unit of what goes up. */
  readonly unit: string;
  /** What the lines are, the most important last: it is drawn boldest, and its ends are told in figures. */
  readonly kinds: readonly string[];
  readonly panels: readonly Panel[];
  readonly columns: number;
  /** A value in words, without its unit. */
  readonly say: (value: number) => string;
}

const WIDTH = 880;
const [LEFT, RIGHT, TOP, BOTTOM] = [20, 24, 110, 54] as const;
/** Room before a panel, in which its scale stands, and behind it; and between one row and the next. */
const [BEFORE, BEHIND, BETWEEN] = [40, 16, 78] as const;
const HIGH = 150;
const INSET = 14;

export function panelPlot(plot: PanelPlot): string {
  const { panels, columns, title, words, kinds, unit } = plot;
  const rows = Math.ceil(panels.length / columns);
  const cell = (WIDTH - LEFT - RIGHT) / columns;
  const height = TOP + 22 + rows * HIGH + (rows - 1) * BETWEEN + BOTTOM;
  const up = decades(panels.flatMap(({ lines }) => lines.flat()));
  const along = decades(plot.along.map(({ at }) => at));
  const drawn = panels.flatMap((panel, at) => {
    const x = LEFT + BEFORE + (at % columns) * cell;
    const y = TOP + 22 + Math.floor(at / columns) * (HIGH + BETWEEN);
    return panelAt({ plot, panel, x, y, wide: cell - BEFORE - BEHIND, up, along });
  });
  return picture({ title, words, width: WIDTH, height }, [
    text(WIDTH - RIGHT, 80, `${unit}, each line ten times the one below`, "soft", "end"),
    ...legend(kinds, 80),
    ...drawn,
    text(WIDTH / 2, height - 12, plot.alongWords, "soft", "middle"),
  ]);
}

interface Placed {
  readonly plot: PanelPlot;
  readonly panel: Panel;
  readonly x: number;
  readonly y: number;
  readonly wide: number;
  readonly up: ReturnType<typeof decades>;
  readonly along: ReturnType<typeof decades>;
}

function panelAt({ plot, panel, x, y, wide, up, along }: Placed): string[] {
  const upTo = (value: number) => y + HIGH - up.at(value) * HIGH;
  const alongTo = (value: number) => x + INSET + along.at(value) * (wide - 2 * INSET);
  const marks = [text(x, y - 24, panel.name, "name")];
  for (const tick of up.ticks) {
    marks.push(line(x, upTo(tick), x + wide, upTo(tick), "grid"));
    marks.push(text(x - 8, upTo(tick) + TEXT_PX / 3, plot.say(tick), "soft", "end"));
  }
  marks.push(line(x, y + HIGH, x + wide, y + HIGH, "axis"));
  for (const { at, name } of plot.along) {
    marks.push(text(alongTo(at), y + HIGH + 18, name, "soft", "middle"));
  }
  for (const [kind, values] of panel.lines.entries()) {
    const points = values.map(
      (value, at) => `${place(alongTo(plot.along[at]!.at))} ${place(upTo(value))}`,
    );
    marks.push(curve(kind, plot.kinds.length, `M${points.join("L")}`));
  }
  const main = panel.lines.at(-1)!;
  for (const [at, value] of main.entries()) {
    const [cx, cy] = [alongTo(plot.along[at]!.at), upTo(value)];
    marks.push(`<circle cx="${place(cx)}" cy="${place(cy)}" r="3.5" class="main"/>`);
    const isEnd = at === 0 || at === main.length - 1;
    if (isEnd) marks.push(text(cx, cy - 9, plot.say(value), "", "middle"));
  }
  return marks;
}
