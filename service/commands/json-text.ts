/**
 * An answer of a command: JSON for programs, on lines for people.
 */
export function jsonText(told: unknown): string {
  return `${JSON.stringify(told, null, 2)}\n`;
}
