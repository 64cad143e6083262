/**
 * Entries of a batch record: who wrote them and when, and what was corrected struck through above its correction.
 */
import type { Tongue } from "../tongue.ts";
import { BODY, type Block, SMALL, broken, space, stack, text } from "./blocks.ts";
import { MM, widthOf } from "./canvas.ts";
import { written } from "./letters.ts";

export interface EntrySaid {
  readonly place: number;
  readonly when: string;
  readonly by: string;
  readonly paragraphs: readonly string[];
  readonly corrections: readonly {
    readonly place: number;
    readonly when: string;
    readonly by: string;
    readonly because: string;
    readonly words: string;
  }[];
}

const INSET = 3 * MM;

/** @param stands what was said stays as it was found, whatever was written to it after */
export function entryBlocks(
  entry: EntrySaid,
  say: Tongue["say"],
  width: number,
  stands = false,
): Block[] {
  const inner = width - INSET;
  const { corrections } = entry;
  const isStruck = corrections.length > 0 && !stands;
  const said = (words: string) => (isStruck ? deletedText(words, inner) : text(words, inner, BODY));
  const [first, ...others] = entry.paragraphs.map(said);
  const told = text(`${entry.place}. ${entry.when}, ${entry.by}`, width, SMALL);
  return [
    stack([told, ...(first ? [inset(first)] : [])]),
    ...others.map(inset),
    ...corrections.flatMap(({ place, when, by, because, words }, at) => [
      text(
        `${place}. ${when}, ${by}. ${say("record.correctedBecause", { because })}`,
        width,
        SMALL,
      ),
      inset(at === corrections.length - 1 ? text(words, inner, BODY) : deletedText(words, inner)),
    ]),
    space(0.8 * MM),
  ];
}

/** A paragraph struck through, still to be read. */
export function deletedText(words: string, width: number): Block {
  const height = BODY.size * (BODY.line ?? 1);
  const lines = broken(written(words), width, BODY).map((line): Block => {
    const inner = text(line, width, BODY);
    return {
      height,
      draw(canvas, x, y) {
        inner.draw(canvas, x, y);
        const through = y + height / 2 + BODY.size * 0.12;
        canvas.line(x, through, x + widthOf(line, BODY), through, 0.6);
      },
    };
  });
  return stack(lines);
}

function inset(block: Block): Block {
  const { parts, height } = block;
  return {
    height,
    draw: (canvas, x, y) => block.draw(canvas, x + INSET, y),
    ...(parts ? { parts: parts.length === 1 ? [] : parts.map(inset) } : {}),
  };
}
