/**
 * What the page of one part of the settings says beside its own fields.
 */
import type { Fault } from "../typed/fault.ts";

export interface PartSays<Fields> {
  readonly fields: Fields;
  /** A fault's field is the id of the field to mend. */
  readonly faults: readonly Fault[];
  /** Whether somebody saved settings while the page was open. */
  readonly overtaken: boolean;
  readonly saved: boolean;
}
