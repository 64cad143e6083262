/**
 * Rooms of drafts: measured in slices, so that other requests go on between, and kept until the draft or anything it
 * is judged on changes.
 */
import { type Picture, type PictureQuestion, openPicture } from "#core/order/room/picture.ts";
import type { Tariffs } from "#core/order/room/prices.ts";
import { type RoomReport, openRoom } from "#core/order/room/room.ts";
import type { Slices } from "#core/order/room/stepper.ts";
import { ingredientsOf } from "#core/compose/product.ts";
import { makeTariff } from "#core/price/tariff.ts";
import type { Desk } from "./desk.ts";
import type { ProductDraft } from "./draft-shape.ts";
import { inSeason } from "./judge-base.ts";
import { monthOf } from "./season.ts";
import { type ShutMonths, yearShut } from "./year.ts";

/** What is measured. */
export interface RoomSubject {
  readonly stored: { readonly document: ProductDraft; readonly revision: number };
  readonly desk: Desk;
  readonly shipDay: string;
}

export interface Progress {
  readonly judged: number;
  readonly planned: number;
}

/** Blends judged before others have their turn: some 5 to 10 ms. A turn costs a millisecond, whatever the slice. */
const SLICE = 500;
/** Draws over all bases; with many bases each gets fewer, and its interval says so. */
const DRAWS_ALL = 36_000;
const DRAWS_MOST = 9000;
const DRAWS_LEAST = 1500;
const CELLS = 16;
const KEPT_MOST = 60;

export type Rooms = ReturnType<typeof roomsOf>;

/** Rooms and pictures, kept in memory. */
export function roomsOf() {
  const reports = new Map<string, RoomReport>();
  const pictures = new Map<string, Picture>();
  const years = new Map<string, ShutMonths[]>();

  return {
    /** The room as it was measured; nothing when it was not, or something changed since. */
    known: (subject: RoomSubject): RoomReport | undefined => reports.get(keyOf(subject)),

    /** The room, measured now unless it is known. */
    async measure(
      subject: RoomSubject,
      tell: (progress: Progress) => void | Promise<void> = () => undefined,
    ): Promise<RoomReport> {
      const key = keyOf(subject);
      const known = reports.get(key);
      if (known) return known;
      const { product } = subject.stored.document;
      const share = Math.floor(DRAWS_ALL / Math.max(1, product.bases.length));
      const draws = Math.min(DRAWS_MOST, Math.max(DRAWS_LEAST, share));
      const season = inSeason(product, subject.desk, subject.shipDay);
      const options = { draws, tariffs: tariffsOf(subject) };
      const report = await drive(openRoom(season, groundOf(subject.desk), options), tell);
      keep(reports, key, report);
      return report;
    },

    /** Months in which no blend of a base stands the parcel. */
    year(subject: RoomSubject): ShutMonths[] {
      const key = keyOf(subject);
      const known = years.get(key);
      if (known) return known;
      const shut = yearShut(subject.stored.document.product, subject.desk);
      keep(years, key, shut);
      return shut;
    },

    async picture(subject: RoomSubject, question: PictureQuestion): Promise<Picture> {
      const key = `${keyOf(subject)} ${JSON.stringify(question)}`;
      const known = pictures.get(key);
      if (known) return known;
      const season = inSeason(subject.stored.document.product, subject.desk, subject.shipDay);
      const asked = { cells: CELLS, ...question };
      const picture = await drive(openPicture(season, groundOf(subject.desk), asked));
      keep(pictures, key, picture);
      return picture;
    },
  };
}

function keyOf({ stored, desk, shipDay }: RoomSubject): string {
  const { id, costsRevision, lawRevision, revision } = desk.shop;
  const { product } = stored.document;
  return [
    id,
    product.id,
    stored.revision,
    costsRevision,
    lawRevision,
    revision,
    monthOf(shipDay),
  ].join(" ");
}

function keep<Value>(kept: Map<string, Value>, key: string, value: Value): void {
  if (kept.size >= KEPT_MOST) kept.delete(kept.keys().next().value!);
  kept.set(key, value);
}

function groundOf({ ingredientOf, law }: Desk) {
  return { ingredientOf, ...(law ? { law } : {}) };
}

/** Tariffs of the jars that have one; the others are told without prices. */
function tariffsOf({ stored, desk }: RoomSubject): Tariffs {
  const { product, pricePolicy } = stored.document;
  const ids = ingredientsOf(product);
  return Object.fromEntries(
    product.jars.flatMap((jar) => {
      const made = makeTariff(pricePolicy, jar, desk.costs, ids);
      return "tariff" in made ? [[jar.id, made.tariff] as const] : [];
    }),
  );
}

async function drive<Result>(
  work: Slices<Result>,
  tell: (progress: Progress) => void | Promise<void> = () => undefined,
): Promise<Result> {
  while (!work.step(SLICE)) {
    await tell(work.progress());
    await new Promise((resolve) => setTimeout(resolve));
  }
  return work.result();
}
