/**
 * The entries of a record in reading order: what was to be made, what was made, what was found and who decided. Nothing
 * is left out by being corrected or overtaken; it stands with what overtook it.
 */
import type { RecordKind } from "#core/make/batch-record.ts";
import { type RunFigures, runFigures } from "./record-figures.ts";
import type { BodyOf, ClosedBody, Issued, ReadEntry } from "./record-shapes.ts";

/** An entry of one kind. */
export type EntryOf<Kind extends RecordKind> = Extract<ReadEntry, { readonly kind: Kind }>;

/** An entry with the corrections that were written to it after. */
export type Corrected<Kind extends RecordKind> = EntryOf<Kind> & {
  readonly corrections: readonly EntryOf<"correction">[];
};

/** When something happened and by whom. */
interface Told {
  readonly at: number;
  readonly by: string;
}

export interface RecordSheet {
  /** Missing only when the first entry could not be read. */
  readonly issued: (Told & { readonly body: Issued }) | undefined;
  /** Place of the entry by which an older batch was taken over into its record. */
  readonly takenOver: EntryOf<"taken-over"> | undefined;
  readonly closed: (Told & { readonly body: ClosedBody }) | undefined;
  readonly runs: readonly RunFigures[];
  readonly started: readonly Corrected<"started">[];
  readonly steps: readonly Corrected<"step">[];
  readonly deviations: readonly Corrected<"deviation">[];
  readonly overrides: readonly EntryOf<"label-override">[];
  readonly prints: readonly EntryOf<"labels-printed">[];
  readonly lotCorrections: readonly EntryOf<"lot-correction">[];
  readonly samples: readonly Corrected<"retained-sample">[];
  readonly netContents: readonly Corrected<"net-content">[];
  readonly notes: readonly Corrected<"note">[];
  /** Remarks to the closing, the taken-over ones first. */
  readonly remarks: readonly { readonly at: number; readonly by: string; readonly words: string }[];
  readonly decision: EntryOf<"release"> | undefined;
  readonly earlierDecisions: readonly EntryOf<"release">[];
  /** Places of entries that were written after the decision and may touch it. */
  readonly sinceDecision: readonly number[];
}

/** What may change whether a batch should have been released. */
const TOUCHES_DECISION: ReadonlySet<RecordKind> = new Set<RecordKind>([
  ...(["deviation", "correction", "net-content", "closing-amended", "label-override"] as const),
]);

/** Put the entries of a record in reading order. @param entries in the order of their places */
export function sheetOf(entries: readonly ReadEntry[]): RecordSheet {
  const of = <Kind extends RecordKind>(kind: Kind) =>
    entries.filter((entry): entry is EntryOf<Kind> => entry.kind === kind);
  const corrections = of("correction");
  const withCorrections = <Kind extends RecordKind>(kind: Kind): Corrected<Kind>[] =>
    of(kind).map((entry) => ({ ...entry, corrections: reaching(entry.sequence, corrections) }));
  const takenOver = of("taken-over")[0];
  const issued = issuedIn(of("issued")[0], takenOver);
  const lotCorrections = of("lot-correction");
  const closed = closedIn(of("closed").at(-1), takenOver);
  const [decision, ...earlierDecisions] = of("release").reverse();
  return {
    ...{ issued, takenOver, closed, lotCorrections, decision, earlierDecisions },
    runs: issued ? runFigures(issued.body, lotCorrections.at(-1)?.body.issued, closed?.body) : [],
    started: withCorrections("started"),
    steps: withCorrections("step"),
    deviations: withCorrections("deviation"),
    overrides: of("label-override"),
    prints: of("labels-printed"),
    samples: withCorrections("retained-sample"),
    netContents: withCorrections("net-content"),
    notes: withCorrections("note"),
    remarks: [
      ...(takenOver?.body.notes ?? []),
      ...of("closing-amended").map(({ at, by, body }) => ({ at, by, words: body.words })),
    ],
    sinceDecision: decision
      ? entries
          .filter(
            ({ sequence, kind }) => sequence > decision.sequence && TOUCHES_DECISION.has(kind),
          )
          .map(({ sequence }) => sequence)
      : [],
  };
}

/** Corrections of an entry, and corrections of those, in the order written. */
function reaching(
  sequence: number,
  corrections: readonly EntryOf<"correction">[],
): EntryOf<"correction">[] {
  const reached = new Set([sequence]);
  return corrections.filter((each) => {
    if (!reached.has(each.body.of)) return false;
    reached.add(each.sequence);
    return true;
  });
}

function issuedIn(issued: EntryOf<"issued"> | undefined, over: EntryOf<"taken-over"> | undefined) {
  if (issued) return issued;
  return over && { at: over.body.issuedAt, by: over.by, body: over.body.issued };
}

function closedIn(closed: EntryOf<"closed"> | undefined, over: EntryOf<"taken-over"> | undefined) {
  if (closed) return closed;
  const body: BodyOf<"taken-over"> | undefined = over?.body;
  if (!over || !body?.closed || body.closedAt === null) return undefined;
  return { at: body.closedAt, by: over.by, body: body.closed };
}
