/**
 * A count with its noun, for whoever runs the shop: the pages of the maker and the command line are English.
 */

/**
 * "1 order", "12 orders".
 * @param more the noun for all counts but one, where it is more than an "s" longer
 */
export function countWords(n: number, one: string, more = `${one}s`): string {
  return `${n} ${n === 1 ? one : more}`;
}
