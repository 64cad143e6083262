/**
 * The words of a label set into its rectangle: the largest type at which everything fits, or how much is missing at
 * the smallest type the market allows.
 *
 * A label half as wide again as it is high gets two columns: in front name, purpose and content, behind them the
 * rest. The content stands at the foot of the front (21 CFR 701.13 asks for the lowest 30 % of the panel; elsewhere
 * it does no harm), on one line wherever one can hold it, and never with a figure parted from its unit. The batch's
 * code is drawn beside it, or above it, where there is room; the number itself always stands in words.
 */
import type { Particular } from "./label.ts";
import type { ParticularId } from "./label-market.ts";
import { type Face, type TypeFace, breakLines, lengthMm } from "./label-type.ts";

export interface LabelRoom {
  readonly widthMm: number;
  readonly heightMm: number;
}

export interface FitRules {
  /** Least height of the small x [mm] */
  readonly leastXMm: number;
  readonly face: TypeFace;
}

export interface PlacedText {
  readonly text: string;
  readonly xMm: number;
  /** Of the line the letters stand on. */
  readonly yMm: number;
  readonly sizeMm: number;
  readonly isBold: boolean;
}

export interface PlacedSymbol {
  readonly symbol: NonNullable<Particular["symbol"]>;
  readonly xMm: number;
  readonly yMm: number;
  readonly sizeMm: number;
}

export interface FittedLabel {
  readonly lines: readonly PlacedText[];
  readonly symbols: readonly PlacedSymbol[];
  /** Where the batch's code is drawn, without its quiet zone; missing where there is no room for it. */
  readonly code?: { readonly xMm: number; readonly yMm: number; readonly sizeMm: number };
  /** Height of the small x of the text [mm] */
  readonly xHeightMm: number;
}

export interface TooSmall {
  /** Height the words need at the smallest type, at this width [mm]; missing when no height would do. */
  readonly needsHeightMm?: number;
  /** Width they would need at this height [mm]; missing when even a very wide label would not do. */
  readonly needsWidthMm?: number;
}

/** White border of a label [mm]; own choice: what a cutter may be off, and a little. */
export const EDGE_MM = 1.8;
/** A batch number as a QR code: 21 modules of 0.4 mm (own choice; a phone reads 0.33 mm and more). */
export const CODE_MM = 8.4;
/** White modules round a QR code: four, of 0.4 mm (ISO/IEC 18004, from memory). */
const QUIET_MM = 1.6;
// The measures from here on are own choice.
const COLUMN_GAP_MM = 2.6;
const COMFORTABLE_X_MM = 1.5;
const STEP_MM = 0.05;
const LINE = 1.2;
const PARAGRAPH = 0.32;
const WIDE = 1.5;
const WIDEST_MM = 400;
const STRIDE_MM = 12;
const FRONT_SHARES = [0.36, 0.42, 0.3, 0.48, 0.54, 0.6];
const FRONT: ReadonlySet<ParticularId> = new Set(["name", "purpose", "content"]);
/** Sizes beside the text's own. */
const SCALE: Partial<Record<ParticularId, readonly number[]>> = {
  name: [2.1, 1.8, 1.5, 1.25],
  purpose: [1.15],
};
const NAME_LINES_MOST = 2;

interface Style {
  /** The content on one line, or else a line for each of its statements that needs one. */
  readonly isWhole: boolean;
  readonly hasCode: boolean;
}

/** What is given up for room, in this order: first the code, then the content's one line. */
const STYLES: readonly Style[] = [
  { isWhole: true, hasCode: true },
  { isWhole: true, hasCode: false },
  { isWhole: false, hasCode: true },
  { isWhole: false, hasCode: false },
];
const LAST_STYLE = STYLES.at(-1)!;

/** Set the particulars into a label. */
export function fitLabel(
  particulars: readonly Particular[],
  room: LabelRoom,
  rules: FitRules,
): { readonly fitted: FittedLabel } | { readonly tooSmall: TooSmall } {
  const { leastXMm } = rules;
  const mostXMm = Math.max(COMFORTABLE_X_MM, leastXMm);
  const steps = Math.floor((mostXMm - leastXMm) / STEP_MM + 1e-9);
  for (const style of STYLES) {
    for (let step = 0; step <= steps; step += 1) {
      const xHeightMm = step === steps ? leastXMm : mostXMm - step * STEP_MM;
      const set = setAt(particulars, room, rules.face, xHeightMm, style);
      if (set.needsMm <= room.heightMm + 1e-9) return { fitted: set.fitted };
    }
  }
  const needs = (widthMm: number) =>
    setAt(particulars, { ...room, widthMm }, rules.face, leastXMm, LAST_STYLE).needsMm;
  const needsHeightMm = needs(room.widthMm);
  const height = needsHeightMm === Infinity ? {} : { needsHeightMm };
  return { tooSmall: { ...height, ...widthFor(needs, room) } };
}

/** Width at which the words fit this height and a millimetre less would not do; found in strides, then step by step. */
function widthFor(needs: (widthMm: number) => number, { widthMm, heightMm }: LabelRoom) {
  const fits = (wide: number) => needs(wide) <= heightMm;
  const narrowest = Math.ceil(widthMm);
  let wide = narrowest;
  while (!fits(wide)) {
    wide += STRIDE_MM;
    if (wide > WIDEST_MM) return {};
  }
  while (wide > narrowest && fits(wide - 1)) wide -= 1;
  return { needsWidthMm: wide };
}

interface Setting {
  readonly fitted: FittedLabel;
  /** Height of the label that would hold it [mm]; infinite when it is too narrow for the content. */
  readonly needsMm: number;
}

/** Everything at one size of type: the arrangement that needs least height. */
function setAt(
  particulars: readonly Particular[],
  room: LabelRoom,
  face: TypeFace,
  xHeightMm: number,
  style: Style,
): Setting {
  const sizeMm = xHeightMm / face.regular.xHeight;
  const front = particulars.filter(({ id }) => FRONT.has(id));
  const rest = particulars.filter(({ id }) => !FRONT.has(id));
  const isWide = room.widthMm >= WIDE * room.heightMm && front.length > 0 && rest.length > 0;
  const innerMm = room.widthMm - 2 * EDGE_MM;
  const shares = isWide ? FRONT_SHARES : [1];
  const settings = shares.map((share) => {
    const frontMm = isWide ? innerMm * share - COLUMN_GAP_MM / 2 : innerMm;
    const page = new Page(face, sizeMm);
    const content = front.find(({ id }) => id === "content");
    const heads = front.filter(({ id }) => id !== "content");
    let headEnd = page.paragraphs(heads, EDGE_MM, EDGE_MM, frontMm);
    let restEnd = 0;
    if (isWide) {
      const xMm = EDGE_MM + frontMm + COLUMN_GAP_MM;
      restEnd = page.paragraphs(rest, xMm, EDGE_MM, innerMm - frontMm - COLUMN_GAP_MM);
    } else {
      if (heads.length > 0) headEnd += sizeMm * PARAGRAPH;
      headEnd = page.paragraphs(rest, EDGE_MM, headEnd, frontMm);
    }
    const footMm = page.foot(content, frontMm, room.heightMm, style);
    const needsMm = Math.max(headEnd + footMm + EDGE_MM, restEnd + EDGE_MM);
    return { fitted: page.done(xHeightMm), needsMm };
  });
  return settings.reduce((best, each) => (each.needsMm < best.needsMm ? each : best));
}

/** A label being set. */
class Page {
  readonly #lines: PlacedText[] = [];
  readonly #symbols: PlacedSymbol[] = [];
  readonly #face: TypeFace;
  readonly #sizeMm: number;
  #code: FittedLabel["code"];

  constructor(face: TypeFace, sizeMm: number) {
    this.#face = face;
    this.#sizeMm = sizeMm;
  }

  /** Paragraphs one under the other. @returns where the next would begin */
  paragraphs(all: readonly Particular[], xMm: number, topMm: number, widthMm: number): number {
    let yMm = topMm;
    for (const [at, each] of all.entries()) {
      if (at > 0) yMm += this.#sizeMm * PARAGRAPH;
      yMm = this.#paragraph(each, xMm, yMm, widthMm);
    }
    return yMm;
  }

  #paragraph(each: Particular, xMm: number, topMm: number, widthMm: number): number {
    const isBold = each.id === "name";
    const face = isBold ? this.#face.bold : this.#face.regular;
    const { sizeMm, broken, indentMm } = this.#broken(each, face, widthMm);
    if (each.symbol) {
      this.#symbols.push({ symbol: each.symbol, xMm, yMm: topMm, sizeMm: sizeMm * LINE });
    }
    return this.#write(broken, { xMm, topMm, sizeMm, isBold, indentMm });
  }

  /** Headings take the largest of their sizes that needs few lines. */
  #broken(each: Particular, face: Face, widthMm: number) {
    const indentMm = each.symbol ? this.#sizeMm * LINE * 1.25 : 0;
    const scales = SCALE[each.id] ?? [1];
    const tried = scales.map((scale) => {
      const sizeMm = this.#sizeMm * scale;
      return {
        sizeMm,
        broken: breakLines(each.text, { sizeMm, widthMm, indentMm }, face),
        indentMm,
      };
    });
    return tried.find(({ broken }) => broken.length <= NAME_LINES_MOST) ?? tried.at(-1)!;
  }

  #write(
    broken: readonly string[],
    at: { xMm: number; topMm: number; sizeMm: number; isBold: boolean; indentMm?: number },
  ): number {
    const { xMm, topMm, sizeMm, isBold, indentMm = 0 } = at;
    for (const [line, text] of broken.entries()) {
      const yMm = topMm + (line + 0.95) * sizeMm * LINE - sizeMm * 0.14;
      const indent = line === 0 ? indentMm : 0;
      this.#lines.push({ text, xMm: xMm + indent, yMm, sizeMm, isBold });
    }
    return topMm + broken.length * sizeMm * LINE;
  }

  /** Content and code at the foot of the front. @returns the height they take, a gap above them included [mm] */
  foot(
    content: Particular | undefined,
    widthMm: number,
    heightMm: number,
    { isWhole, hasCode }: Style,
  ): number {
    const codeMm = hasCode ? CODE_MM + QUIET_MM : 0;
    const bottomMm = heightMm - EDGE_MM;
    let codeBottomMm = bottomMm;
    let takenMm = codeMm;
    if (content) {
      const face = this.#face.bold;
      const sizeMm = Math.max((content.figureMm ?? 0) / face.capHeight, this.#sizeMm * 1.15);
      const long = (text: string) => lengthMm(text, sizeMm, face);
      const longest = isWhole ? long(content.text) : Math.max(...content.text.split(" ").map(long));
      if (longest > widthMm) return Infinity;
      const isBeside = longest <= widthMm - codeMm;
      const room = { sizeMm, widthMm: isBeside ? widthMm - codeMm : widthMm };
      const broken = breakLines(content.text, room, face);
      const textMm = broken.length * sizeMm * LINE;
      this.#write(broken, { xMm: EDGE_MM, topMm: bottomMm - textMm, sizeMm, isBold: true });
      if (!isBeside) codeBottomMm -= textMm + QUIET_MM;
      takenMm = Math.max(bottomMm - codeBottomMm + codeMm, textMm + this.#sizeMm * PARAGRAPH);
    }
    if (hasCode) {
      const xMm = EDGE_MM + widthMm - CODE_MM;
      this.#code = { xMm, yMm: codeBottomMm - CODE_MM, sizeMm: CODE_MM };
    }
    return takenMm;
  }

  done(xHeightMm: number): FittedLabel {
    return {
      lines: this.#lines,
      symbols: this.#symbols,
      ...(this.#code ? { code: this.#code } : {}),
      xHeightMm,
    };
  }
}
