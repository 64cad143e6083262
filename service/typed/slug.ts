/**
 * A name as part of an address: small Latin letters, digits and hyphens.
 */

/**
 * @param most greatest length
 * @returns nothing of a name without a Latin letter or digit: an empty text
 */
export function slugOf(name: string, most: number): string {
  return name
    .normalize("NFKD")
    .replaceAll(/\p{M}/gu, "")
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "-")
    .slice(0, most)
    .replaceAll(/^-+|-+$/g, "");
}
