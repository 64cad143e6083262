/**
 * Queries that are put together once and run with other values each time: with the many columns of an order that takes
 * longer than reading a few rows.
 */

/** @param write puts the query together, with placeholders, and prepares it; called when it is first needed */
export function writtenOnce<Written extends object>(write: () => Written): () => Written {
  let written: Written | undefined;
  return () => (written ??= write());
}
