/**
 * The settings of one shop among several, as text: a line for each, such as `SOFTSET_MAIL_TO=post@shop.example`. The
 * same text stands in a file on a machine and in a secret at the edge.
 */
import { SETTING_NAMES } from "./settings.ts";

/** What the process has and all its shops share. */
export const SHARED_NAMES: ReadonlySet<string> = new Set([
  ...["HOST", "PORT", "NODE_ENV", "SOFTSET_SHOPS"],
  ...["SOFTSET_LOG", "SOFTSET_METRICS_TOKEN", "SOFTSET_BEHIND_PROXY"],
]);

/** Where a shop’s database is follows from its host name, so nobody says it. */
const SAID_BY_HOST = "SOFTSET_DATABASE";

export interface ShopLines {
  readonly variables: Readonly<Record<string, string>>;
  /** Sentences; a value is never in them, as it may be a secret. */
  readonly faults: readonly string[];
}

/**
 * Read the settings of a shop.
 * @param host the name it is reached by
 * @param text lines NAME=value; empty ones and those that begin with # say nothing; quotation marks round a value fall
 *   off, and one that is empty counts as none, as in the environment
 */
export function readShopLines(host: string, text: string): ShopLines {
  const variables: Record<string, string> = {};
  const seen = new Set<string>();
  const faults: string[] = [];
  text.split(/\r?\n/).forEach((line, at) => {
    if (/^\s*(#|$)/.test(line)) return;
    const [, name = "", value = ""] = /^\s*([A-Za-z_]\w*)=(.*?)\s*$/.exec(line) ?? [];
    if (name === "") faults.push(`Line ${at + 1} is not NAME=value.`);
    else if (seen.has(name)) faults.push(`${name}: stands there twice.`);
    else {
      seen.add(name);
      const fault = nameFault(name);
      if (fault) faults.push(fault);
      const said = unquoted(value);
      if (said !== "") variables[name] = said;
    }
  });
  const url = variables["SOFTSET_URL"] ?? "";
  if (URL.canParse(url) && new URL(url).hostname !== host) {
    faults.push(`SOFTSET_URL: its host must be ${host}, by which this shop is found.`);
  }
  return { variables, faults };
}

/** Variables of one shop that were set for all: each shop would take itself to be that one. */
export function notForAll(environment: Readonly<Record<string, unknown>>): string[] {
  return SETTING_NAMES.filter((name) => !SHARED_NAMES.has(name))
    .filter((name) => (environment[name] ?? "") !== "")
    .map((name) => `${name}: belongs to one shop, and SOFTSET_SHOPS is set; put it there alone.`);
}

function nameFault(name: string): string | undefined {
  if (SHARED_NAMES.has(name)) return `${name}: is set for all shops together, not here.`;
  if (name === SAID_BY_HOST) return `${name}: the database lies where the shop’s name says.`;
  return SETTING_NAMES.includes(name) ? undefined : `${name}: there is no such setting.`;
}

function unquoted(value: string): string {
  return /^(["'])(.*)\1$/.exec(value)?.[2] ?? value;
}
