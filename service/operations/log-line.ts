/**
 * A line of the log: JSON with time and level first, and nothing in it that a person typed.
 */

/** The query builder puts the values of a query that failed into its message, and those may be names and addresses. */
const VALUES = /\nparams: [\s\S]*?((?:\n {4}at [^\n]*)*)$/;

/** Where the service writes its log: a line each to standard error, on a machine and at the edge alike. */
export function logToStandardError(line: Readonly<Record<string, unknown>>): void {
  console.error(logLine(new Date(), line));
}

/**
 * @param now when it is written
 * @param line what happened; with an `error`, a `cause` or a status of 500 or more it is an error
 * @returns one line, without its end
 */
export function logLine(now: Date, line: Readonly<Record<string, unknown>>): string {
  const { status, error, cause } = line;
  const isError = Boolean(error ?? cause) || (typeof status === "number" && status >= 500);
  const told = Object.entries(line).map(([key, value]) => [
    key,
    typeof value === "string" ? value.replace(VALUES, "$1") : value,
  ]);
  const level = isError ? "error" : "info";
  return JSON.stringify({
    time: now.toISOString(),
    level,
    ...(Object.fromEntries(told) as object),
  });
}
