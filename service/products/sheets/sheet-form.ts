/**
 * A sheet of a product: fields out of the draft, fields as typed, and typed fields into the draft or sentences. What
 * was typed is never lost: the page is drawn from it again.
 */
import type { PageName } from "../../pages/render.ts";
import type { Desk } from "../desk.ts";
import type { ProductDraft, Sheet } from "../draft-shape.ts";
import type { Fault } from "../../typed/fault.ts";

export type Applied = { readonly draft: ProductDraft } | { readonly faults: readonly Fault[] };

export interface SheetForm<Typed> {
  readonly sheet: Sheet;
  readonly page: PageName;
  /** The fields as they stand in the draft. */
  write(draft: ProductDraft, desk: Desk): Typed;
  /** The fields as they were typed. */
  read(form: FormData): Typed;
  /** The draft with what was typed, or everything that stands against it. */
  apply(typed: Typed, draft: ProductDraft, desk: Desk): Applied;
  /** What the page shows beside head and faults. */
  model(typed: Typed, draft: ProductDraft, desk: Desk, shipDay: string): object;
}

export function outcome(faults: readonly Fault[], draft: () => ProductDraft): Applied {
  return faults.length > 0 ? { faults } : { draft: draft() };
}
