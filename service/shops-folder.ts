/**
 * Several shops on one machine: `SOFTSET_SHOPS` names a folder, and in it is a folder for each shop, called by its host
 * name, with its database, its keys, and its settings if it has any.
 */
import { existsSync, readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { SHARED_NAMES, notForAll, readShopLines } from "./shop-lines.ts";
import { isHostName } from "./shops-by-host.ts";
import { type Settings, SettingsFault, readSettings } from "./settings.ts";

type Environment = Readonly<Record<string, string | undefined>>;

export const databaseIn = (folder: string, host: string): string => join(folder, host, "shop.db");

/** A file of its own, because secrets are in it: only who runs the service should be able to read it. */
export const settingsFileIn = (folder: string, host: string): string =>
  join(folder, host, "settings.env");

export interface ShopFolders {
  /** Host names of the shops, in order. */
  readonly hosts: readonly string[];
  /** Folders that are no shop, because their name is no host name. */
  readonly others: readonly string[];
}

/** @throws SettingsFault when there is no such folder, or no shop in it */
export function shopFoldersIn(folder: string): ShopFolders {
  const names = foldersIn(folder);
  const hosts = names.filter(isHostName).sort();
  if (hosts.length === 0) {
    throw new SettingsFault(
      `SOFTSET_SHOPS: there is no shop in ${folder}. Make a folder in it, called by the host name of the shop, ` +
        "for example shop.example; the first start makes its database.",
    );
  }
  return { hosts, others: names.filter((name) => !isHostName(name)) };
}

function foldersIn(folder: string): string[] {
  try {
    return readdirSync(folder, { withFileTypes: true })
      .filter((entry) => !entry.isFile() && !entry.name.startsWith("."))
      .map(({ name }) => name);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    throw new SettingsFault(`SOFTSET_SHOPS: the folder ${folder} cannot be read (${code}).`, {
      cause: error,
    });
  }
}

/** Settings of the process that all shops share. @throws SettingsFault also when one shop's are among them */
export function readSharedSettings(environment: Environment): Settings {
  return readSettings(sharedOf(environment), notForAll(environment));
}

/** What one shop's settings are read from, and what is wrong with its file. */
export function environmentIn(folder: string, host: string, environment: Environment) {
  const file = settingsFileIn(folder, host);
  const { variables, faults } = readShopLines(
    host,
    existsSync(file) ? readFileSync(file, "utf8") : "",
  );
  const own = { ...variables, SOFTSET_DATABASE: databaseIn(folder, host) };
  return { environment: { ...sharedOf(environment), ...own }, faults };
}

/** Settings of one shop. @throws SettingsFault with every fault of its file */
export function readSettingsIn(folder: string, host: string, environment: Environment): Settings {
  const { environment: own, faults } = environmentIn(folder, host, environment);
  return readSettings(own, faults);
}

function sharedOf(environment: Environment): Environment {
  return Object.fromEntries(Object.entries(environment).filter(([name]) => SHARED_NAMES.has(name)));
}
