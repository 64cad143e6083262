/**
 * Which lots could go into a run instead, and which of them alone would keep what was promised.
 */
import { judgeLots } from "#core/make/lot-correction.ts";
import type { Shop } from "../ports.ts";
import type { LotRow } from "../storage/stock.ts";
import type { Bench } from "./bench-day.ts";
import type { Correction } from "./correction.ts";
import { lotsOfRun } from "./correction-lots.ts";
import { type BatchRun, linesOf } from "./sheets.ts";

/** More than this are not tried, so that a full shelf keeps nobody waiting; own choice. */
const TRIED_MOST = 24;

export interface LotStanding {
  readonly lot: LotRow;
  /** Why it cannot be taken; empty when it can. */
  readonly against: "" | "blocked" | "past its date" | "too little";
}

export interface LineLots {
  readonly ingredient: string;
  readonly name: string;
  readonly lots: readonly LotStanding[];
}

/** Lots on hand for every line of a run, those that cannot be taken too, first expired first. */
export async function lotsToChoose(
  shop: Shop,
  { shopId, today }: Bench,
  run: Pick<BatchRun, "workOrder" | "loads">,
): Promise<LineLots[]> {
  const lines = linesOf(run);
  const ids = lines.map(({ ingredient }) => ingredient);
  const onHand = await shop.batchLots.onHand(shopId, ids);
  return lines.map(({ ingredient, name, targetMg }) => ({
    ...{ ingredient, name },
    lots: onHand
      .filter((lot) => lot.ingredientId === ingredient)
      .map((lot) => ({ lot, against: standsAgainst(lot, targetMg, today) })),
  }));
}

function standsAgainst(lot: LotRow, needMg: number, today: string): LotStanding["against"] {
  if (lot.blockedBecause !== null) return "blocked";
  if (lot.bestBefore !== null && lot.bestBefore < today) return "past its date";
  return lot.onHandMg < needMg ? "too little" : "";
}

export interface ChosenLots {
  readonly chosen: ReadonlyMap<string, LotRow>;
  /** Lots that were asked for and cannot be taken. */
  readonly refused: readonly { readonly name: string; readonly standing: LotStanding }[];
}

/** The lots somebody asked for by their ids; one that is not on the shelf any more is left out. */
export function chosenFrom(lines: readonly LineLots[], ids: readonly string[]): ChosenLots {
  const chosen = new Map<string, LotRow>();
  const refused: { name: string; standing: LotStanding }[] = [];
  for (const { ingredient, name, lots } of lines) {
    const standing = lots.find(({ lot }) => ids.includes(lot.id));
    if (!standing) continue;
    if (standing.against === "") chosen.set(ingredient, standing.lot);
    else refused.push({ name, standing });
  }
  return { chosen, refused };
}

export interface OtherLot {
  readonly name: string;
  readonly lot: LotRow;
  /** Every lot that would then be chosen, by id. */
  readonly lotIds: readonly string[];
}

/** Lots that by themselves, taken instead of what goes in now, keep the ordered blend within its promise. */
export function lotsThatKeep(correction: Correction, lines: readonly LineLots[]): OtherLot[] {
  const { ground, lots, chosen, run } = correction;
  if (!ground) return [];
  const goingIn = new Set(lots.lines.flatMap(({ portions }) => portions.map(({ lot }) => lot.id)));
  const others = lines.flatMap(({ ingredient, name, lots: standings }) =>
    standings
      .filter(({ lot, against }) => against === "" && !goingIn.has(lot.id))
      .map(({ lot }) => ({ ingredient, name, lot })),
  );
  const portions = lots.lines.map((line) => line.portions);
  return others.slice(0, TRIED_MOST).flatMap(({ ingredient, name, lot }) => {
    const instead = new Map([...chosen, [ingredient, lot] as const]);
    const tried = lotsOfRun(run, portions, instead, ground.ingredientOf);
    if (tried.faults.length > 0) return [];
    const judged = judgeLots({ ...ground, choice: ground.ordered, lotOf: tried.lotOf });
    if (judged.kind !== "holds") return [];
    return [{ name, lot, lotIds: [...instead.values()].map(({ id }) => id) }];
  });
}
