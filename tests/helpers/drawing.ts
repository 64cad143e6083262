/**
 * The ground of a plot: an SVG that reads by itself in light and dark, because it brings its own paper. Colours are the
 * shop's own; what differs by colour differs by shape or word too.
 */
export const TEXT_PX = 13;

/** Lines and bars are named with their element, so that a colour of the dark never fills or frames them. */
const STYLE = `
  text { font: 400 ${TEXT_PX}px "IBM Plex Sans", system-ui, sans-serif; fill: #2a2622; }
  .title { font-weight: 600; font-size: 17px; }
  .name { font-weight: 600; font-size: 14px; }
  .soft { fill: #635a50; }
  .paper { fill: #fffdf9; stroke: #dccfbb; }
  .grid { stroke: #e6dccb; }
  .axis { stroke: #8a7d6d; }
  .main { stroke: #7a3b24; fill: #7a3b24; }
  .less { stroke: #8a7d6d; fill: #8a7d6d; }
  .mark { stroke: #2a2622; fill: #2a2622; }
  path.line { fill: none; stroke-width: 1.75; }
  path.main.line { stroke-width: 2.5; }
  rect.bar { stroke: none; }
  .band { fill: #f3ead9; }
  @media (prefers-color-scheme: dark) {
    text { fill: #f2ebe1; }
    .soft { fill: #c3b6a5; }
    .paper { fill: #1e1a17; stroke: #4a4138; }
    .grid { stroke: #39322b; }
    .axis { stroke: #9c8e7d; }
    .main { stroke: #eb9f7c; fill: #eb9f7c; }
    .less { stroke: #9c8e7d; fill: #9c8e7d; }
    .mark { stroke: #f2ebe1; fill: #f2ebe1; }
    .band { fill: #2b2620; }
  }`;

export interface Frame {
  readonly title: string;
  /** Under the title: what is shown, and how to read it. */
  readonly words: string;
  readonly width: number;
  readonly height: number;
}

/** A whole picture. @param marks what is drawn on it */
export function picture({ title, words, width, height }: Frame, marks: readonly string[]): string {
  const size = `width="${width}" height="${height}" viewBox="0 0 ${width} ${height}"`;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" ${size} role="img" aria-labelledby="title words">`,
    `<title id="title">${escaped(title)}</title>`,
    `<desc id="words">${escaped(words)}</desc>`,
    `<style>${STYLE}\n</style>`,
    `<rect class="paper" x="0.5" y="0.5" width="${width - 1}" height="${height - 1}" rx="8"/>`,
    text(20, 32, title, "title"),
    text(20, 54, words, "soft"),
    ...marks,
    "</svg>\n",
  ].join("\n");
}

export type Anchor = "start" | "middle" | "end";

export function text(
  x: number,
  y: number,
  words: string,
  kind = "",
  anchor: Anchor = "start",
): string {
  const said = escaped(words);
  return `<text x="${place(x)}" y="${place(y)}" class="${kind}" text-anchor="${anchor}">${said}</text>`;
}

export function line(x1: number, y1: number, x2: number, y2: number, kind: string): string {
  const ends = `x1="${place(x1)}" y1="${place(y1)}" x2="${place(x2)}" y2="${place(y2)}"`;
  return `<line ${ends} class="${kind}"/>`;
}

/** A tenth of a pixel is finer than anybody sees. */
export function place(value: number): string {
  return String(Math.round(value * 10) / 10);
}

/** From few dots to none: told apart without colour. */
const DASHES = ["1 5", "7 4", ""];

/**
 * A line that is one of several.
 * @param at its place among them, the last of which is drawn boldest
 * @param of how many there are, three at most
 */
export function curve(at: number, of: number, path: string): string {
  const dash = DASHES[DASHES.length - of + at]!;
  const look = `class="${at === of - 1 ? "main" : "less"} line" stroke-dasharray="${dash}"`;
  return `<path d="${path}" ${look} stroke-linecap="round"/>`;
}

/** What the lines are; nothing for one. @param y of the words' foot */
export function legend(kinds: readonly string[], y: number): string[] {
  if (kinds.length === 1) return [];
  let x = 20;
  return kinds.flatMap((kind, at) => {
    const from = x;
    x += 62 + 8 * kind.length;
    return [curve(at, kinds.length, `M${from} ${y - 4}h34`), text(from + 42, y, kind, "soft")];
  });
}

export function escaped(words: string): string {
  return words.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");
}

/** Places of powers of ten that hold all values, and where each value stands between the ends, from 0 to 1. */
export function decades(values: readonly number[]) {
  const logs = values.map(Math.log10);
  const from = Math.floor(Math.min(...logs) + 1e-9);
  const to = Math.max(from + 1, Math.ceil(Math.max(...logs) - 1e-9));
  return {
    ticks: Array.from({ length: to - from + 1 }, (_, step) => 10 ** (from + step)),
    at: (value: number) => (Math.log10(value) - from) / (to - from),
  };
}
