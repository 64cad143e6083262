/**
 * Tables a maker has sent in, kept while their preview is looked at.
 *
 * D1 holds at most 2 MB in a row, so a long text is kept in pieces: ID, ID.001, ID.002 and so on.
 */
import { csvUploads } from "#data/schema.ts";
import { and, asc, eq, gte, lt } from "drizzle-orm";
import type { Database } from "./database.ts";

export interface CsvUpload {
  readonly id: string;
  readonly shopId: string;
  readonly kind: "ingredients" | "lots";
  readonly text: string;
  /** [s since 1970] */
  readonly receivedAt: number;
}

/** Four bytes a character at most, and room for the rest of the row. */
const PIECE_CHARACTERS = 450_000;
const KEPT_S = 24 * 3600;

export function csvUploadsIn(db: Database) {
  const { q } = db;
  return {
    /** Keep a table; those a day old are thrown away. */
    add: async ({ text, ...upload }: CsvUpload): Promise<void> => {
      const old = and(
        eq(csvUploads.shopId, upload.shopId),
        lt(csvUploads.receivedAt, upload.receivedAt - KEPT_S),
      );
      const pieces = piecesOf(text).map((piece, at) =>
        q.insert(csvUploads).values({ ...upload, id: pieceId(upload.id, at), text: piece }),
      );
      await db.atomic([q.delete(csvUploads).where(old), ...pieces]);
    },

    byId: async (shopId: string, id: string): Promise<CsvUpload | undefined> => {
      const pieces = await q
        .select()
        .from(csvUploads)
        .where(
          and(eq(csvUploads.shopId, shopId), gte(csvUploads.id, id), lt(csvUploads.id, `${id}.~`)),
        )
        .orderBy(asc(csvUploads.id));
      const first = pieces[0];
      if (!first || first.id !== id) return undefined;
      return { ...first, text: pieces.map(({ text }) => text).join("") };
    },
  };
}

const pieceId = (id: string, at: number) =>
  at === 0 ? id : `${id}.${String(at).padStart(3, "0")}`;

/** Cuts between characters, never inside one that takes two units. */
function piecesOf(text: string): string[] {
  const pieces: string[] = [];
  for (let from = 0; from < text.length || from === 0;) {
    let to = Math.min(text.length, from + PIECE_CHARACTERS);
    if (to < text.length && /[\uD800-\uDBFF]/.test(text[to - 1]!)) to -= 1;
    pieces.push(text.slice(from, to));
    if (to === text.length) break;
    from = to;
  }
  return pieces;
}
