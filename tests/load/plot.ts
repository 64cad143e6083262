/**
 * Curves over time as SVG that reads on light and dark alike: panels one below the other on one time axis, with the
 * faults as bands behind them.
 */
import { FAULT_KINDS, type FaultKind, type FaultSpan } from "./fault-plan.ts";

export interface Curve {
  readonly name: string;
  /** Place among the colours, from 0. */
  readonly colour: number;
  readonly dashed?: boolean;
  /** [ms since 1970, value] */
  readonly points: readonly (readonly [number, number])[];
}

export interface Panel {
  readonly title: string;
  readonly unit: string;
  readonly curves: readonly Curve[];
  /** Decades instead of equal steps, where the least is far below the greatest. */
  readonly decades?: boolean;
  /** The axis begins here instead of at the least value. */
  readonly from?: number;
}

export interface Plot {
  readonly title: string;
  readonly begin: number;
  readonly end: number;
  readonly faults: readonly FaultSpan[];
  readonly panels: readonly Panel[];
}

const WIDTH = 960;
const LEFT = 66;
const RIGHT = 18;
const HEAD = 92;
const PANEL_HEIGHT = 112;
const PANEL_GAP = 46;
const STYLE = `
  svg { color-scheme: light dark; --ground: #fdfcf9; --ink: #26221c; --faint: #6b655a; --line: #d9d4c8; --band: #efe9db;
    --c0: #1f5f8b; --c1: #a8480f; --c2: #2f6d3a; --c3: #7a3b7d; background: var(--ground); }
  @media (prefers-color-scheme: dark) { svg { --ground: #1d1b18; --ink: #efeae0; --faint: #aaa397; --line: #45413a;
    --band: #2d2a24; --c0: #7fbce6; --c1: #f0a06a; --c2: #8fd19b; --c3: #d7a2da; } }
  text { font: 12px system-ui, sans-serif; fill: var(--ink); } .faint { fill: var(--faint); }
  .title { font-size: 17px; font-weight: 600; } .panel { font-weight: 600; } .band { fill: var(--band); }
  .grid { stroke: var(--line); } .curve { fill: none; stroke-width: 1.6; stroke-linejoin: round; }`;

export function drawPlot({ title, begin, end, faults, panels }: Plot): string {
  const x = (at: number) => LEFT + ((at - begin) / (end - begin)) * (WIDTH - LEFT - RIGHT);
  const height = HEAD + panels.length * (PANEL_HEIGHT + PANEL_GAP) + 8;
  const drawn = panels.map((panel, at) => {
    const top = HEAD + at * (PANEL_HEIGHT + PANEL_GAP);
    return drawPanel(panel, { top, x, begin, end, faults });
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${height}" role="img" aria-label="${plain(title)}">
<style>${STYLE}</style>
<rect width="${WIDTH}" height="${height}" fill="var(--ground)"/>
<text class="title" x="16" y="26">${plain(title)}</text>
<text class="faint" x="16" y="46">Bands are faults: ${FAULT_KINDS.map((kind) => `${letterOf(kind)} ${kind}`).join(", ")}</text>
${drawn.join("\n")}
</svg>
`;
}

interface Place {
  readonly top: number;
  readonly x: (at: number) => number;
  readonly begin: number;
  readonly end: number;
  readonly faults: readonly FaultSpan[];
}

function drawPanel({ title, unit, curves, decades = false, from }: Panel, place: Place): string {
  const { top, x, begin, end, faults } = place;
  const bottom = top + PANEL_HEIGHT;
  const values = curves.flatMap(({ points }) => points.map(([, value]) => value));
  const ticks = decades ? decadesOf(values) : stepsOf(values, from);
  const [least, greatest] = [ticks[0]!, ticks.at(-1)!];
  const scale = decades ? Math.log10 : (value: number) => value;
  const y = (value: number) => {
    const part = (scale(value) - scale(least)) / (scale(greatest) - scale(least));
    return bottom - Math.min(1, Math.max(0, part)) * PANEL_HEIGHT;
  };
  const bands = faults.map((each) => {
    const [left, width] = [x(each.from), x(each.to) - x(each.from)];
    const box = `x="${round(left)}" y="${top}" width="${round(width)}" height="${PANEL_HEIGHT}"`;
    return `<rect class="band" ${box}><title>${each.kind}</title></rect>
<text class="faint" x="${round(left + width / 2)}" y="${top + 12}" text-anchor="middle">${letterOf(each.kind)}</text>`;
  });
  const grid = ticks.map((tick) => {
    const level = round(y(tick));
    return `<line class="grid" x1="${LEFT}" x2="${WIDTH - RIGHT}" y1="${level}" y2="${level}"/>
<text class="faint" x="${LEFT - 8}" y="${level + 4}" text-anchor="end">${say(tick)}</text>`;
  });
  const minutes = minutesOf(begin, end).map((minute) => {
    const at = round(x(begin + minute * 60_000));
    const words = minute === 0 ? "0 min" : say(minute);
    return `<text class="faint" x="${at}" y="${bottom + 16}" text-anchor="middle">${words}</text>`;
  });
  return [
    `<text class="panel" x="${LEFT}" y="${top - 8}">${plain(title)}<tspan class="faint" font-weight="400">  ${plain(unit)}</tspan></text>`,
    legend(curves, top - 8),
    ...bands,
    ...grid,
    ...curves.map((curve) => drawCurve(curve, x, y)),
    ...minutes,
  ].join("\n");
}

function legend(curves: readonly Curve[], y: number): string {
  const names = curves.map(({ name, colour, dashed }) => {
    const mark = dashed ? "╌" : "━";
    return `<tspan fill="var(--c${colour})">  ${mark} </tspan><tspan>${plain(name)}</tspan>`;
  });
  return `<text x="${WIDTH - RIGHT}" y="${y}" text-anchor="end">${names.join("")}</text>`;
}

function drawCurve({ points, colour, dashed }: Curve, x: Place["x"], y: (v: number) => number) {
  const line = points.map(([at, value]) => `${round(x(at))},${round(y(value))}`).join(" ");
  const dashes = dashed ? ' stroke-dasharray="5 4"' : "";
  return `<polyline class="curve" stroke="var(--c${colour})"${dashes} points="${line}"/>`;
}

function decadesOf(values: readonly number[]): number[] {
  const some = values.filter((value) => value > 0);
  const low = Math.floor(Math.log10(Math.min(1, ...some)));
  const high = Math.max(low + 1, Math.ceil(Math.log10(Math.max(1, ...some))));
  return Array.from({ length: high - low + 1 }, (_, at) => 10 ** (low + at));
}

/** Three to six round numbers around all values. */
function stepsOf(values: readonly number[], from: number | undefined): number[] {
  const least = from ?? Math.min(...values);
  const greatest = Math.max(...values, least + 1e-9);
  const rough = (greatest - least || 1) / 4;
  const decade = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((by) => by * decade).find((each) => each >= rough)!;
  const first = Math.floor(least / step);
  const last = Math.max(first + 1, Math.ceil(greatest / step));
  return Array.from({ length: last - first + 1 }, (_, at) => (first + at) * step);
}

function minutesOf(begin: number, end: number): number[] {
  const whole = (end - begin) / 60_000;
  const step = [0.5, 1, 2, 5, 10].find((each) => whole / each <= 10) ?? 20;
  return Array.from({ length: Math.floor(whole / step) + 1 }, (_, at) => at * step);
}

const letterOf = (kind: FaultKind) => "abcdefg"[FAULT_KINDS.indexOf(kind)]!;
const round = (value: number) => Math.round(value * 10) / 10;
const say = (value: number) => String(Number(value.toPrecision(3)));

function plain(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");
}
