/**
 * How long a text is on a label, and where it breaks. Lengths come from the widths of the font's own letters
 * (`data/library/label-font.ts`); a letter the font lacks counts as its widest, which errs towards "does not fit".
 */

export interface Face {
  /** As style sheets number it. */
  readonly weight: number;
  /** Height of a capital and of a figure, as a part of the size. */
  readonly capHeight: number;
  /** Height of the small x, as a part of the size. */
  readonly xHeight: number;
  /** Width by character, as a part of the size. */
  readonly advances: ReadonlyMap<string, number>;
  readonly widest: number;
}

export interface TypeFace {
  readonly regular: Face;
  readonly bold: Face;
}

/** Length of a text [mm] */
export function lengthMm(text: string, sizeMm: number, { advances, widest }: Face): number {
  let ems = 0;
  for (const character of text) ems += advances.get(character) ?? widest;
  return ems * sizeMm;
}

/**
 * Break a text into lines at its spaces; a word longer than the line is broken where it must.
 * @param widthMm room for a line
 * @param indentMm taken from the first line
 */
export function breakLines(
  text: string,
  { sizeMm, widthMm, indentMm = 0 }: { sizeMm: number; widthMm: number; indentMm?: number },
  face: Face,
): string[] {
  const lines: string[] = [];
  const spaceMm = lengthMm(" ", sizeMm, face);
  let line = "";
  let takenMm = 0;
  const room = () => (lines.length === 0 ? widthMm - indentMm : widthMm);
  const end = () => {
    if (line !== "") lines.push(line);
    line = "";
    takenMm = 0;
  };
  for (const word of text.split(" ").filter((each) => each !== "")) {
    const wordMm = lengthMm(word, sizeMm, face);
    if (line !== "" && takenMm + spaceMm + wordMm > room()) end();
    if (line !== "" || wordMm <= room()) {
      takenMm += line === "" ? wordMm : spaceMm + wordMm;
      line = line === "" ? word : `${line} ${word}`;
      continue;
    }
    for (const letter of word) {
      const letterMm = lengthMm(letter, sizeMm, face);
      if (takenMm + letterMm > room()) end();
      line += letter;
      takenMm += letterMm;
    }
  }
  return line === "" ? lines : [...lines, line];
}
