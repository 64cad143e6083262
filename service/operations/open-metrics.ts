/**
 * The OpenMetrics 1.0 text format.
 */

export const OPEN_METRICS = "application/openmetrics-text; version=1.0.0; charset=utf-8";

export interface Sample {
  /** What follows the family's name, as _total; empty for a gauge. */
  readonly ending: string;
  /** As `labelled` writes them. */
  readonly labels: string;
  readonly value: number;
}

export interface Family {
  readonly name: string;
  readonly type: "counter" | "gauge" | "histogram";
  readonly unit?: string;
  readonly help: string;
  readonly samples: readonly Sample[];
}

/** Labels between braces, in the order they are given. */
export function labelled(labels: Readonly<Record<string, string>>): string {
  const parts = Object.entries(labels).map(([name, value]) => `${name}="${escaped(value)}"`);
  return parts.length > 0 ? `{${parts.join(",")}}` : "";
}

/**
 * Families of several sources as the format wants them: each once, with every sample told apart by one more label.
 * @param sources by what the label says; empty for what belongs to none, which gets no label
 */
export function gatherFamilies(
  label: string,
  sources: Iterable<readonly [string, readonly Family[]]>,
): Family[] {
  const gathered = new Map<string, Family>();
  for (const [source, families] of sources) {
    for (const family of families) {
      const known = gathered.get(family.name) ?? { ...family, samples: [] };
      const samples = family.samples.map((sample) => ({
        ...sample,
        labels: source === "" ? sample.labels : withLabel(label, source, sample.labels),
      }));
      gathered.set(family.name, { ...known, samples: [...known.samples, ...samples] });
    }
  }
  return [...gathered.values()];
}

function withLabel(label: string, value: string, labels: string): string {
  const first = labelled({ [label]: value });
  return labels === "" ? first : `${first.slice(0, -1)},${labels.slice(1)}`;
}

/** Families as text; the last line says that nothing is missing. */
export function writeMetrics(families: readonly Family[]): string {
  return `${families.map(writeFamily).join("")}# EOF\n`;
}

function writeFamily({ name, type, unit, help, samples }: Family): string {
  const head = [
    `# TYPE ${name} ${type}`,
    ...(unit ? [`# UNIT ${name} ${unit}`] : []),
    `# HELP ${name} ${escaped(help)}`,
  ];
  const lines = samples.map(({ ending, labels, value }) => `${name}${ending}${labels} ${value}`);
  return [...head, ...lines].map((line) => `${line}\n`).join("");
}

function escaped(text: string): string {
  return text.replaceAll("\\", "\\\\").replaceAll("\n", "\\n").replaceAll('"', '\\"');
}
