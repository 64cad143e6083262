/**
 * Countries, time zones and languages, as the runtime's own tables (CLDR, IANA) know them.
 */

/** Codes with a name that are no country one could have a bench in: unions, reserved and private codes. */
const NO_COUNTRIES = new Set(["AC", "CP", "CQ", "DG", "EA", "EU", "EZ", "IC", "QO", "TA", "UN"]);
const PRIVATE = /^(X[AB]|ZZ)$/;

// Asking the tables takes milliseconds, and they do not change while the service runs.
let countries: ReadonlyMap<string, string> | undefined;

/** Names by ISO 3166-1 code, in the order of the names. */
export function countryNames(): ReadonlyMap<string, string> {
  countries ??= findCountries();
  return countries;
}

function findCountries(): ReadonlyMap<string, string> {
  const names = new Intl.DisplayNames("en", { type: "region", fallback: "none" });
  const letters = [..."ABCDEFGHIJKLMNOPQRSTUVWXYZ"];
  const codes = letters.flatMap((one) => letters.map((two) => one + two));
  return new Map(
    codes
      .filter((code) => !NO_COUNTRIES.has(code) && !PRIVATE.test(code))
      // A code that has given way to another is written as the other.
      .filter((code) => new Intl.Locale(`und-${code}`).region === code)
      .map((code) => [code, names.of(code)] as const)
      .filter((entry): entry is [string, string] => entry[1] !== undefined)
      .sort(([, one], [, two]) => one.localeCompare(two, "en")),
  );
}

/** Whether a time zone has a name of the IANA table that `Intl` can reckon with; "+01:00" has no summer. */
export function isTimeZone(name: string): boolean {
  if (!/^[A-Z][\w+-]*(\/[\w+-]+)+$|^UTC$/i.test(name)) return false;
  try {
    new Intl.DateTimeFormat("en", { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

let timeZones: readonly string[] | undefined;

/** Time zones to choose from by the part of the world; the one in use is always among them. */
export function timeZonesFor(used: string): readonly (readonly [string, readonly string[]])[] {
  timeZones ??= [...Intl.supportedValuesOf("timeZone"), "UTC"];
  const groups = new Map<string, string[]>();
  for (const name of [...new Set([...timeZones, used])].sort()) {
    const [part = ""] = name.split("/");
    const group = name.includes("/") ? part : "Everywhere";
    const names = groups.get(group);
    if (names) names.push(name);
    else groups.set(group, [name]);
  }
  return [...groups];
}

/** Whether dates and money can be written for a language tag (BCP 47). */
export function isLocale(tag: string): boolean {
  try {
    return Intl.DateTimeFormat.supportedLocalesOf(tag).length === 1;
  } catch {
    return false;
  }
}
