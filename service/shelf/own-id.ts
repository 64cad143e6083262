/**
 * Ids of the maker's own ingredients: the library's for the first of its kind, else made from the maker's name.
 */

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
  const slug = slugOf(name);
  const wanted = slug === "" || !taken.has(libraryId) ? libraryId : slug;
  if (!taken.has(wanted) && !NOT_IDS.has(wanted)) return wanted;
  let number = 2;
  while (taken.has(`${wanted}-${number}`)) number += 1;
  return `${wanted}-${number}`;
}

function slugOf(name: string): string {
  return name
    .normalize("NFKD")
    .replaceAll(/\p{M}/gu, "")
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "-")
    .slice(0, ID_LENGTH_MOST - 5)
    .replaceAll(/^-+|-+$/g, "");
}
