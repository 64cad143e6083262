/**
 * Ids of the maker's own ingredients: the library's for the first of its kind, else made from the maker's name.
 */

import { slugOf } from "../typed/slug.ts";

const ID_LENGTH_MOST = 48;
/** Words of the shelf's own addresses. */
const NOT_IDS: ReadonlySet<string> = new Set(["new", "lots", "files", "start"]);
const OWN_ID = /^[a-z0-9]+(-[a-z0-9]+)*$/;

/** Whether a text, from a file, may be an id. */
export function isOwnId(text: string): boolean {
  return text.length <= ID_LENGTH_MOST && OWN_ID.test(text) && !NOT_IDS.has(text);
}

/**
 * A free id.
 * @param taken ids the shop has had, put away or not
 */
export function ownId(libraryId: string, name: string, taken: ReadonlySet<string>): string {
  const slug = slugOf(name, ID_LENGTH_MOST - 5);
  const wanted = slug === "" || !taken.has(libraryId) ? libraryId : slug;
  if (!taken.has(wanted) && !NOT_IDS.has(wanted)) return wanted;
  let number = 2;
  while (taken.has(`${wanted}-${number}`)) number += 1;
  return `${wanted}-${number}`;
}
