/**
 * Days of the calendar as ISO 8601 text, such as "2026-11-25".
 */

/** Whether a text is a day that there is: "2026-02-30" is none. */
export function isDay(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(text)) return false;
  const time = Date.parse(`${text}T00:00:00Z`);
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(text);
}
