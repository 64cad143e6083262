/**
 * Lists longer than one statement can bind.
 */

/** D1 binds 100 values a statement; the rest is for what stands beside them. */
export const IDS_MOST = 80;

/** A list in pieces of a greatest length. */
export function inPages<T>(all: readonly T[], most = IDS_MOST): T[][] {
  const pages: T[][] = [];
  for (let at = 0; at < all.length; at += most) pages.push(all.slice(at, at + most));
  return pages;
}
