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
