/**
 * Outlines as our drawings write them (SVG paths of straight lines: M L H V Z, absolute or relative) as the same
 * outline in a PDF.
 */

const COMMAND = /([MLHVZ])([^MLHVZ]*)/gi;
const NUMBER = /-?(?:\d+\.?\d*|\.\d+)/g;

/** @throws on a command that is not a straight line */
export function outlineOf(path: string): string {
  const strange = /[^MLHVZ\d\s.,-]/i.exec(path);
  if (strange) throw new Error(`no outline of straight lines: ${strange[0]}`);
  const out: string[] = [];
  let [x, y, startX, startY] = [0, 0, 0, 0];
  for (const [, command, rest] of path.matchAll(COMMAND)) {
    const isRelative = command === command!.toLowerCase();
    const kind = command!.toUpperCase();
    if (kind === "Z") {
      out.push("h");
      [x, y] = [startX, startY];
      continue;
    }
    const figures = [...rest!.matchAll(NUMBER)].map(([figure]) => Number(figure));
    const step = kind === "M" || kind === "L" ? 2 : 1;
    for (let at = 0; at < figures.length; at += step) {
      const [one, other] = [figures[at]!, figures[at + 1]!];
      const [fromX, fromY] = isRelative ? [x, y] : [0, 0];
      if (kind !== "V") x = fromX + one;
      if (kind === "V") y = fromY + one;
      if (step === 2) y = fromY + other;
      const isMove = kind === "M" && at === 0; // further pairs after a move are lines
      if (isMove) [startX, startY] = [x, y];
      out.push(`${figure(x)} ${figure(y)} ${isMove ? "m" : "l"}`);
    }
  }
  return out.join(" ");
}

/** As a PDF writes a number: never with an exponent. */
export function figure(value: number): string {
  return String(Math.round(value * 1000) / 1000);
}
