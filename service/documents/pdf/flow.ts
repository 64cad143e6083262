/**
 * Blocks down the pages of a paper. No block is broken that a page has room for, a table's head stands again where the
 * table goes on, and every page says at its foot what it belongs to.
 */
import { PAPERS, type PaperId } from "#core/make/label-sheet.ts";
import type { Tongue } from "../tongue.ts";
import { type Block, SMALL, linesOf, broken } from "./blocks.ts";
import { Canvas, MM, widthOf } from "./canvas.ts";
import { written } from "./letters.ts";

/** As wide as the browser's own print; own choice. */
const MARGIN = { top: 11 * MM, side: 13 * MM, foot: 17 * MM } as const;
const FOOT: typeof SMALL = { size: 7.5, line: 1.3 };
const FOOT_SHARE = 0.84;

export class Flow {
  /** Between the margins [pt] */
  readonly width: number;
  /** Room on an empty page [pt] */
  readonly height: number;
  readonly #size: { readonly width: number; readonly height: number };
  readonly #pages: Canvas[] = [];
  #y = 0;

  constructor(paper: PaperId) {
    const { widthMm, heightMm } = PAPERS[paper];
    this.#size = { width: widthMm * MM, height: heightMm * MM };
    this.width = this.#size.width - 2 * MARGIN.side;
    this.height = this.#size.height - MARGIN.top - MARGIN.foot;
    this.newPage();
  }

  newPage(): void {
    this.#pages.push(new Canvas(this.#size.width, this.#size.height));
    this.#y = 0;
  }

  /** Draw blocks one under the other, all of them on one page where that is possible. */
  keep(...blocks: readonly Block[]): void {
    const height = blocks.reduce((sum, block) => sum + block.height, 0);
    if (height > this.#room() && height <= this.height) this.newPage();
    for (const block of blocks) this.place(block);
  }

  /** Draw a block. @throws when no page has room for it and it has no place to be broken at */
  place(block: Block): void {
    if (block.height > this.#room() && this.#y > 0 && block.height <= this.height) this.newPage();
    if (block.height <= this.#room() + 0.01) {
      block.draw(this.#pages.at(-1)!, MARGIN.side, MARGIN.top + this.#y);
      this.#y += block.height;
      return;
    }
    if (!block.parts || block.parts.length < 2) throw new Error("a block is higher than a page");
    for (const part of block.parts) this.place(part);
  }

  /**
   * Rows under a head, which is drawn again at the top of every page the rows go on to.
   * @param before stays with the head and the first rows
   */
  rows(head: Block, rows: readonly Block[], before: readonly Block[] = []): void {
    const [first, ...others] = rows;
    this.keep(...before, head, ...(first ? [first] : []));
    for (const row of others) {
      if (row.height > this.#room()) {
        this.newPage();
        this.place(head);
      }
      this.place(row);
    }
  }

  /** Leave room, but not at the top of a page. */
  gap(height: number): void {
    if (this.#y > 0) this.#y = Math.min(this.#y + height, this.height);
  }

  /**
   * The pages with what runs at their foot.
   * @param running what they belong to and what outranks them
   * @param elsewhere where characters stand that could not be written
   */
  done(running: string, elsewhere: string, say: Tongue["say"]): Canvas[] {
    const top = this.#size.height - MARGIN.foot + 2.5 * MM;
    for (const [at, page] of this.#pages.entries()) {
      const foot = written(running);
      const boxes = `${say("sheet.unwritten", { count: page.unwritten })} ${elsewhere}`;
      const missing = page.unwritten > 0 ? [written(boxes)] : [];
      const lines = [foot, ...missing].flatMap((words) =>
        broken(words, this.width * FOOT_SHARE, FOOT),
      );
      linesOf(lines, this.width * FOOT_SHARE, FOOT).draw(page, MARGIN.side, top);
      const count = `${say("sheet.page")} ${at + 1} ${say("sheet.pageOf")} ${this.#pages.length}`;
      const right = MARGIN.side + this.width - widthOf(count, FOOT);
      linesOf([count], this.width, FOOT).draw(page, right, top);
    }
    return this.#pages;
  }

  #room(): number {
    return this.height - this.#y;
  }
}
