/**
 * JSON in one way of writing only (RFC 8785, JSON Canonicalization Scheme), so that a hash is of what is said and not
 * of how it was spaced.
 */

/**
 * Write a value canonically: members sorted by the UTF-16 units of their names, numbers as ECMAScript writes them, no
 * blank anywhere. A member that is undefined is left out, as JSON does.
 * @throws TypeError for what RFC 8785 forbids: NaN, infinities and half a surrogate pair; and for what is no JSON
 */
export function canonicalJson(value: unknown): string {
  if (value === null || typeof value === "boolean") return String(value);
  if (typeof value === "number") return numberText(value);
  if (typeof value === "string") return stringText(value);
  if (Array.isArray(value)) return `[${value.map(canonicalJson).join(",")}]`;
  if (typeof value === "object") {
    const members = Object.entries(value).filter(([, each]) => each !== undefined);
    // The default order of sort() is the one by UTF-16 units that the RFC asks for.
    const names = members.map(([name]) => name).sort();
    const texts = names.map(
      (name) => `${stringText(name)}:${canonicalJson((value as Record<string, unknown>)[name])}`,
    );
    return `{${texts.join(",")}}`;
  }
  throw new TypeError(`JSON holds no ${typeof value}`);
}

function numberText(value: number): string {
  if (!Number.isFinite(value)) throw new TypeError(`JSON holds no ${value}`);
  return JSON.stringify(value);
}

function stringText(value: string): string {
  // With the u flag, only a half that has lost its other half is matched.
  if (/\p{Surrogate}/u.test(value)) throw new TypeError("half a surrogate pair cannot be written");
  return JSON.stringify(value);
}
