/**
 * What a batch keeps of a correction for its lots: beside the sheet that is made by now, the one that was issued.
 */
import type { Choice } from "#core/compose/product.ts";
import type { Finding } from "#core/finding.ts";
import type { BlendFigures } from "#core/make/lot-correction.ts";
import type { WorkOrder } from "#core/make/work-order.ts";

/** One sheet as it is made by: work order and loads of the vessel. */
export interface Sheet {
  readonly workOrder: WorkOrder;
  /** How many times the vessel is filled for it. */
  readonly loads: number;
  /** What each load weighs of each line of the weigh list; missing when there is one load [mg] */
  readonly loadTargetsMg?: readonly (readonly number[])[];
}

/** A correction that somebody accepted; it stands until the batch is closed, or is taken back before it is started. */
export interface KeptCorrection {
  /** [s since 1970] */
  readonly at: number;
  readonly by: string;
  /** Why the lots asked for it, in English sentences as the record keeps them. */
  readonly because: string;
  /** The same for papers in other languages; missing on older corrections, whose sentences stand as they are. */
  readonly told?: BecauseTold;
  /** The corrected choice. */
  readonly choice: Choice;
  readonly ordered: KeptFigures;
  readonly corrected: KeptFigures;
  /** Lots it was worked out for, where they have certificates or were chosen. */
  readonly lots: readonly KeptLot[];
  /** The sheet as it was issued, by the blend that was ordered. */
  readonly issued: Sheet;
}

/** Lots with certificates, and what they take from the promise. */
export interface BecauseTold {
  readonly lots: readonly { readonly ingredient: string; readonly code: string }[];
  readonly against: readonly Finding[];
  /** As it comes out with them. */
  readonly firmness: BlendFigures["firmness"];
}

/** What the lots make of a blend. */
export type KeptFigures = Omit<BlendFigures, "blend" | "against">;

export interface KeptLot {
  readonly ingredient: string;
  readonly lotId: string;
  readonly code: string;
  /** [mg] */
  readonly takeMg: number;
}

/** A change of a sheet after it was issued; each makes what was printed before void. */
export interface SheetChange {
  /** [s since 1970] */
  readonly at: number;
  readonly by: string;
  /** Place of the run, from 0. */
  readonly run: number;
  readonly what: "corrected" | "taken-back";
}
