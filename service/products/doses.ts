/**
 * The most of an ingredient that may go into a jar: the maker's own greatest share, or else what the library records as
 * usual. Of an essential oil the lower one counts, because skin is at stake; it replaces no safety assessment.
 */
import { WHOLE } from "#core/blend.ts";
import { type Base, type Product, allowedAt } from "#core/compose/product.ts";
import type { Ingredient } from "#core/ingredient.ts";
import { skinLimits } from "#core/judge/dermal.ts";
import { ingredientById, recordOf } from "#data/library.ts";
import { type Desk, nameOf } from "./desk.ts";
import { percentWords } from "./fields.ts";

export interface DoseCap {
  /** [hundredths of a percent] */
  readonly mostShare: number;
  readonly because: string;
}

/** Cap of an ingredient. */
export function doseCapOf(desk: Desk, id: string): DoseCap {
  const row = desk.shelf.get(id);
  const record = recordOf(row?.libraryId ?? id);
  const own = row?.doseMostShare ?? undefined;
  const usual = record && Math.round(record.usePercent.high * 100);
  const known = ingredientById(row?.libraryId ?? id);
  const skin = known ? mostOnSkin(known) : WHOLE;
  const isEssential = record?.essentialOil !== undefined;
  if (own !== undefined && (!isEssential || own <= Math.min(usual ?? WHOLE, skin))) {
    return { mostShare: own, because: "the most you set on your shelf" };
  }
  if (skin < (usual ?? WHOLE))
    return { mostShare: skin, because: "the most that may stay on skin" };
  if (usual !== undefined) return { mostShare: usual, because: "the most that is usual" };
  return { mostShare: WHOLE, because: "" };
}

/** Most of an ingredient, alone in a jar, by the limits on skin [hundredths of a percent] */
function mostOnSkin(ingredient: Ingredient): number {
  const limits = skinLimits([ingredient]).map(({ weights, most }) =>
    Math.floor(most / weights.get(ingredient.id)!),
  );
  return Math.min(WHOLE, ...limits);
}

/** A sentence where no figure for skin is on record and the maker has none yet; empty otherwise. */
function untoldFault(desk: Desk, id: string): string {
  const row = desk.shelf.get(id);
  const untold = recordOf(row?.libraryId ?? id)?.essentialOil?.mostUntold;
  if (!untold || (row?.doseMostShare ?? null) !== null) return "";
  return `How much ${nameOf(desk, id)} may stay on skin is not on record. ${untold.why} Set it as the most on your shelf.`;
}

/** A sentence when a share is more than the cap; empty when it is not. */
export function doseFault(desk: Desk, id: string, share: number): string {
  const untold = share > 0 ? untoldFault(desk, id) : "";
  if (untold) return untold;
  const words = capBroken(desk, id, share);
  return words && `${nameOf(desk, id)} is at ${words} Take less, ${OR_ELSE}`;
}

/** A sentence when a bound lets more in than the cap; empty when it does not. */
export function boundFault(desk: Desk, id: string, greatest: number): string {
  const untold = greatest > 0 ? untoldFault(desk, id) : "";
  if (untold) return untold;
  const words = capBroken(desk, id, greatest);
  return words && `${nameOf(desk, id)} may go up to ${words} Lower that bound, ${OR_ELSE}`;
}

const OR_ELSE = "or set another most on your shelf if your supplier’s papers allow it.";

function capBroken(desk: Desk, id: string, share: number): string {
  const { mostShare, because } = doseCapOf(desk, id);
  if (share <= mostShare) return "";
  return `${percentWords(share)}; ${percentWords(mostShare)} is ${because}.`;
}

/** What the bounds of a base let in beyond a cap: its butters, and every oil that a place allows. */
export function boundFaults(product: Product, { butters, oils }: Base, desk: Desk): string[] {
  const reach = [
    ...butters,
    ...oils.flatMap(({ place, greatest }) =>
      allowedAt(product, place).map((ingredient) => ({ ingredient, greatest })),
    ),
  ];
  const faults = reach.map(({ ingredient, greatest }) => boundFault(desk, ingredient, greatest));
  return [...new Set(faults.filter(Boolean))];
}
