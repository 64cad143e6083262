/**
 * Finds every figure of a record and the source it stands under: its own object's, or the nearest
 * object's above it.
 */
export interface Figure {
  readonly path: string;
  readonly source?: string;
}

/** Words that are claims about the material, and so need a source like a number does. */
const CLAIMS = new Set(["text", "scent", "colour", "evidence"]);

export function figuresOf(node: unknown, path: string, above?: string): Figure[] {
  if (typeof node === "number") return [{ path, ...(above ? { source: above } : {}) }];
  if (Array.isArray(node))
    return node.flatMap((each, i) => figuresOf(each, `${path}[${i}]`, above));
  if (typeof node !== "object" || node === null) return [];
  const own = "source" in node && typeof node.source === "string" ? node.source : above;
  return Object.entries(node).flatMap(([key, value]) =>
    CLAIMS.has(key)
      ? [{ path: `${path}.${key}`, ...(own ? { source: own } : {}) }]
      : figuresOf(value, `${path}.${key}`, own),
  );
}

export function complaintsAbout(figures: readonly Figure[], known: ReadonlySet<string>): string[] {
  return figures.flatMap(({ path, source }) => {
    if (!source) return [`${path} has no source`];
    return known.has(source) ? [] : [`${path} names the unknown source ${source}`];
  });
}

/** Every source key a record names, also where it stands beside no number. */
export function sourcesNamed(node: unknown): string[] {
  if (typeof node !== "object" || node === null) return [];
  const own = "source" in node && typeof node.source === "string" ? [node.source] : [];
  return [...own, ...Object.values(node).flatMap(sourcesNamed)];
}
