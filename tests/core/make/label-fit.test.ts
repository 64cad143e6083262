import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { CODE_MM, EDGE_MM, type LabelRoom, fitLabel } from "#core/make/label-fit.ts";
import { heightFor } from "#core/make/label-market.ts";
import { PAPERS, gridFor } from "#core/make/label-sheet.ts";
import { breakLines, lengthMm } from "#core/make/label-type.ts";
import { type Particular, contentText } from "#core/make/label.ts";
import { LABEL_FACE } from "#data/library/label-font.ts";
import { LABEL_MARKETS } from "#data/library/label-markets.ts";
import { FIRST_SIZES } from "#data/library/label-sizes.ts";
import { readWoff } from "../../helpers/font-advances.ts";

const WORDS: readonly Particular[] = [
  { id: "name", text: "Everyday butter" },
  { id: "purpose", text: "Whipped body butter" },
  { id: "content", text: "120 g", figureMm: 3 },
  { id: "ingredients", text: `Ingredients: ${"Helianthus Annuus Seed Oil, ".repeat(6)}Tocopherol` },
  { id: "durability", text: "Best used before the end of 25.08.2027", symbol: "hourglass" },
  { id: "batch", text: "Batch 261125-01" },
];
const RULES = { leastXMm: 0.9, face: LABEL_FACE };

function fitted(room: LabelRoom, words = WORDS) {
  const set = fitLabel(words, room, RULES);
  if ("tooSmall" in set) throw new Error(JSON.stringify(set.tooSmall));
  return set.fitted;
}

const faceOf = (isBold: boolean) => (isBold ? LABEL_FACE.bold : LABEL_FACE.regular);

/** What overlaps what, or leaves the label. */
function amiss(room: LabelRoom, words = WORDS): string[] {
  const { lines, code } = fitted(room, words);
  const right = room.widthMm - EDGE_MM + 1e-6;
  const boxes = lines.map((line) => ({
    text: line.text,
    left: line.xMm,
    right: line.xMm + lengthMm(line.text, line.sizeMm, faceOf(line.isBold)),
    top: line.yMm - line.sizeMm * 0.7,
    bottom: line.yMm,
  }));
  const codeBox = code && [
    {
      text: "code",
      left: code.xMm,
      right: code.xMm + CODE_MM,
      top: code.yMm,
      bottom: code.yMm + CODE_MM,
    },
  ];
  const all = [...boxes, ...(codeBox ?? [])];
  return all.flatMap((one, at) => [
    ...(one.right > right || one.bottom > room.heightMm ? [`${one.text} leaves the label`] : []),
    ...all
      .slice(at + 1)
      .filter((other) => one.left < other.right && other.left < one.right)
      .filter((other) => one.top < other.bottom && other.top < one.bottom)
      .map((other) => `${one.text} lies on ${other.text}`),
  ]);
}

describe("the font's widths", () => {
  it("are those of the font file, letter by letter", () => {
    for (const face of [LABEL_FACE.regular, LABEL_FACE.bold]) {
      const file = `ibm-plex-sans-latin-${face.weight}-normal.woff`;
      const font = readWoff(
        new URL(`../../../node_modules/@fontsource/ibm-plex-sans/files/${file}`, import.meta.url),
      );
      const inFile = [...face.advances.keys()].map((letter) => font.advances.get(letter)!);
      const inTable = [...face.advances.values()].map((ems) => ems * font.unitsPerEm);
      expect(inTable.map(Math.round)).toEqual(inFile);
      expect(face.capHeight * font.unitsPerEm).toBe(font.capHeight);
      expect(face.xHeight * font.unitsPerEm).toBe(font.xHeight);
    }
  });

  it("count a letter that the font lacks as its widest", () => {
    const { regular } = LABEL_FACE;
    expect(lengthMm("中", 2, regular)).toBe(regular.widest * 2);
  });
});

describe("lines", () => {
  it("are never longer than their room, and lose no letter", () => {
    const words = fc.array(fc.constantFrom("Oil", "Butyrospermum", "W".repeat(40), "Ö", "a"), {
      minLength: 1,
      maxLength: 30,
    });
    fc.assert(
      fc.property(words, fc.integer({ min: 20, max: 90 }), (all, widthMm) => {
        const room = { sizeMm: 2, widthMm, indentMm: 3 };
        const lines = breakLines(all.join(" "), room, LABEL_FACE.regular);
        expect(lines.join("").replaceAll(" ", "")).toBe(all.join(""));
        for (const [at, line] of lines.entries()) {
          const most = at === 0 ? widthMm - 3 : widthMm;
          expect(lengthMm(line, 2, LABEL_FACE.regular)).toBeLessThanOrEqual(most + 1e-9);
        }
      }),
    );
  });
});

describe("a label", () => {
  it("holds every word once, none upon another and none outside, whatever its shape", () => {
    for (const [widthMm, heightMm] of [
      [140, 40],
      [75, 75],
      [60, 100],
      [190, 25],
      [100, 34],
    ] as const) {
      const room = { widthMm, heightMm };
      expect(amiss(room)).toEqual([]);
      const set = fitted(room)
        .lines.map(({ text }) => text)
        .join("");
      for (const { text } of WORDS) {
        for (const word of text.split(" ")) expect(set).toContain(word);
      }
    }
  });

  it("keeps the heights that are asked for", () => {
    const { lines, xHeightMm } = fitted({ widthMm: 100, heightMm: 34 });
    expect(xHeightMm).toBeGreaterThanOrEqual(0.9);
    const sizes = lines.map(
      ({ sizeMm, isBold }) => sizeMm * LABEL_FACE[isBold ? "bold" : "regular"].xHeight,
    );
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(0.9 - 1e-9);
    const content = lines.find(({ text }) => text === "120 g")!;
    expect(content.sizeMm * LABEL_FACE.bold.capHeight).toBeGreaterThanOrEqual(3 - 1e-9);
    expect(content.yMm).toBeGreaterThan(0.7 * 34); // the lowest 30 % of the panel
  });

  it("gives up its code before its letters, and the number stays in words", () => {
    const widthMm = 45;
    const set = fitLabel(WORDS, { widthMm, heightMm: 20 }, RULES);
    if (!("tooSmall" in set)) throw new Error("it fits");
    const heightMm = Math.ceil(set.tooSmall.needsHeightMm!);
    const tight = fitted({ widthMm, heightMm });
    expect(tight.code).toBeUndefined();
    expect(tight.lines.some(({ text }) => text.includes("261125-01"))).toBe(true);
    expect(fitted({ widthMm, heightMm: heightMm + CODE_MM + 2 }).code).toBeDefined();
  });

  it("that is too small says how much it lacks; that much larger, it fits", () => {
    const room = { widthMm: 60, heightMm: 20 };
    const set = fitLabel(WORDS, room, RULES);
    if (!("tooSmall" in set)) throw new Error("it fits");
    const { needsHeightMm, needsWidthMm } = set.tooSmall;
    expect(needsHeightMm).toBeGreaterThan(20);
    expect(amiss({ widthMm: 60, heightMm: Math.ceil(needsHeightMm!) })).toEqual([]);
    expect(amiss({ widthMm: needsWidthMm!, heightMm: 20 })).toEqual([]);
    expect("tooSmall" in fitLabel(WORDS, { widthMm: needsWidthMm! - 1, heightMm: 20 }, RULES)).toBe(
      true,
    );
  });
});

describe("the content", () => {
  const contentOf = (room: LabelRoom, text: string, figureMm: number) => {
    const words = WORDS.map((each) => (each.id === "content" ? { ...each, text, figureMm } : each));
    const set = fitLabel(words, room, RULES);
    if ("tooSmall" in set) return set.tooSmall;
    expect(amiss(room, words)).toEqual([]);
    // What is set in the content's size at the foot, from the top down.
    return set.fitted.lines.filter((line) => text.includes(line.text)).map((line) => line.text);
  };

  it("stands on one line of every label there is to begin with, in every market", () => {
    for (const { id, contentHeights, content } of LABEL_MARKETS) {
      for (const room of FIRST_SIZES) {
        for (const netG of [8, 60, 120, 200, 450]) {
          const panelCm2 = (room.widthMm * room.heightMm) / 100;
          const by = contentHeights.by === "nominal-g" ? netG : panelCm2;
          const text = contentText(netG, content);
          const set = contentOf(room, text, heightFor(by, contentHeights.steps));
          expect(set, `${id}, ${room.name}, ${netG} g`).toEqual([text]);
        }
      }
    }
  });

  it("is parted between its statements when no line can hold it, and never within one", () => {
    const text = contentText(1200, "ounces-and-grams");
    expect(text.split(" ")).toHaveLength(3);
    const [ounces, pounds, grams] = text.split(" ");
    expect(contentOf({ widthMm: 75, heightMm: 75 }, text, 3.175)).toEqual([
      ...[ounces, `${pounds} ${grams}`],
    ]);
    const narrow = contentOf({ widthMm: 30, heightMm: 140 }, text, 3.175);
    expect(narrow).toEqual({ needsWidthMm: expect.any(Number) as number });
  });

  it("leaves its code a place above it when there is none beside it", () => {
    const words = WORDS.map((each) =>
      each.id === "content" ? { ...each, text: contentText(60, "ounces-and-grams") } : each,
    );
    const room = { widthMm: 54, heightMm: 100 };
    expect(amiss(room, words)).toEqual([]);
    const { code, lines } = fitted(room, words);
    const content = lines.find(({ text }) => text.startsWith("NET"))!;
    expect(code!.yMm + CODE_MM).toBeLessThan(content.yMm - content.sizeMm * 0.7);
  });
});

describe("paper", () => {
  it.each([
    ["a4", 140, 40, 6, false],
    ["letter", 140, 40, 5, false],
    ["a4", 45, 45, 15, false],
    ["a4", 40, 140, 6, true],
  ] as const)("%s takes labels of %d × %d mm: %d", (paper, widthMm, heightMm, many, isTurned) => {
    const grid = gridFor({ widthMm, heightMm }, PAPERS[paper])!;
    expect(grid.places).toHaveLength(many);
    expect(grid.isTurned).toBe(isTurned);
    for (const { xMm, yMm } of grid.places) {
      expect(Math.min(xMm, yMm)).toBeGreaterThanOrEqual(9 - 1e-9);
      expect(xMm + grid.placeMm.widthMm).toBeLessThanOrEqual(PAPERS[paper].widthMm - 9 + 1e-9);
      expect(yMm + grid.placeMm.heightMm).toBeLessThanOrEqual(PAPERS[paper].heightMm - 9 + 1e-9);
    }
  });

  it("draws no mark across a label", () => {
    const { places, placeMm, marks } = gridFor({ widthMm: 45, heightMm: 45 }, PAPERS.a4)!;
    const inside = marks.filter(({ x1Mm, y1Mm, x2Mm, y2Mm }) =>
      places.some(
        ({ xMm, yMm }) =>
          Math.max(x1Mm, x2Mm) > xMm &&
          Math.min(x1Mm, x2Mm) < xMm + placeMm.widthMm &&
          Math.max(y1Mm, y2Mm) > yMm &&
          Math.min(y1Mm, y2Mm) < yMm + placeMm.heightMm,
      ),
    );
    expect(inside).toEqual([]);
  });

  it("is said to be too small rather than cut a label", () => {
    expect(gridFor({ widthMm: 205, heightMm: 290 }, PAPERS.a4)).toBeUndefined();
  });
});
