/**
 * Node itself, the settings, and the keys.
 */
import { existsSync, readFileSync, statSync } from "node:fs";
import { makeSeals } from "../../seals.ts";
import { type Settings, SettingsFault, readSettings } from "../../settings.ts";
import { TillMisconfigured, chooseTill } from "../../tills/choose-till.ts";
import { KeysFault, keysFile } from "../kept-keys.ts";
import { type Word, look, mend, well } from "./word.ts";

type Environment = Readonly<Record<string, string | undefined>>;

/** As `engines` in package.json has it; a test holds the two together. */
export const NODE_LEAST = [20, 19] as const;

export function aboutNode(version: string): Word {
  const [major = 0, minor = 0] = version.replace(/^v/, "").split(".").map(Number);
  const [least, leastMinor] = NODE_LEAST;
  if (major > least || (major === least && minor >= leastMinor)) {
    return well("node", `Node ${version}.`);
  }
  return mend("node", `Node ${version} is too old: install ${NODE_LEAST.join(".")} or newer.`);
}

/**
 * @param before faults that were found where the settings come from
 * @returns what is to be said of the settings, and the settings when they can be used
 */
export function aboutSettings(
  environment: Environment,
  before: readonly string[] = [],
): {
  readonly words: readonly Word[];
  readonly settings: Settings | undefined;
} {
  try {
    const settings = readSettings(environment, before);
    return {
      settings,
      words: [well("settings", "All settings can be read."), ...usesOf(settings)],
    };
  } catch (error) {
    if (!(error instanceof SettingsFault)) throw error;
    const [, ...faults] = error.message.split("\n");
    const words = faults.map((fault) => mend("settings", `${fault.trim().replace(/\.?$/, ".")}`));
    return { settings: undefined, words };
  }
}

function usesOf(settings: Settings): Word[] {
  const { mail, url, eventsToLoopback, metricsToken } = settings;
  const till = tillOf(settings);
  return [
    till.word,
    mail
      ? well("mail", `Mail goes out ${mail.by.kind === "smtp" ? "over SMTP" : "over HTTP"}.`)
      : look(
          "mail",
          "Mail is not set up, so mails wait: set SOFTSET_MAIL_FROM and SOFTSET_SMTP_URL.",
        ),
    ...(till.isReal && !url?.startsWith("https://")
      ? [
          mend(
            "url",
            "Payment is real and SOFTSET_URL is no https address: set the one people use.",
          ),
        ]
      : []),
    ...(till.isReal && eventsToLoopback
      ? [look("events", "SOFTSET_EVENTS_TO_LOOPBACK is for trying out: take it away.")]
      : []),
    ...(metricsToken ? [well("metrics", "/metrics opens to its token.")] : []),
  ];
}

function tillOf({ till, url }: Settings): { readonly word: Word; readonly isReal: boolean } {
  const never = () => Promise.reject(new Error("the doctor takes no money"));
  const sessions = { find: never, save: never, move: never } as never;
  try {
    const { kind } = chooseTill(till, { sessions, baseUrl: url ?? "", now: () => new Date(0) });
    if (kind === "practice") {
      return {
        isReal: false,
        word: look("till", "No Stripe keys are set: the till is for practice."),
      };
    }
    const isTest = /^[rs]k_test_/.test(till.secretKey?.trim() ?? "");
    const word = isTest
      ? look("till", "The Stripe key is one for tests: no money moves.")
      : well(
          "till",
          "The Stripe keys have the right form; whether they are known there shows at the first order.",
        );
    return { isReal: !isTest, word };
  } catch (error) {
    if (!(error instanceof TillMisconfigured)) throw error;
    return { isReal: false, word: mend("till", `Payment is not set up: ${error.message}.`) };
  }
}

/** Of a shop among several: its secrets stand in a file. */
export function aboutSettingsFile(file: string): Word[] {
  if (!existsSync(file) || !isOpenToOthers(file)) return [];
  return [look("settings", `Others on this machine can read ${file}: chmod 600 ${file}`)];
}

/** The text of the keys stays out of what is said. */
export async function aboutKeys(keys: string | undefined, database: string): Promise<Word[]> {
  const file = keysFile(database);
  if (keys === undefined && !existsSync(file)) {
    return existsSync(database)
      ? [
          mend(
            "keys",
            `The keys ${file} are gone: put them back from your copy. Without them the next start makes new ones, and ` +
              "links to orders and quotes that are out stop working.",
          ),
        ]
      : [well("keys", "The first start makes the keys.")];
  }
  const text = keys ?? readFileSync(file, "utf8");
  const isSound = await makeSeals(text).then(
    () => true,
    () => false,
  );
  if (!isSound) return [mend("keys", new KeysFault(keys ? undefined : file).message)];
  return keys === undefined && isOpenToOthers(file)
    ? [look("keys", `Others on this machine can read ${file}: chmod 600 ${file}`)]
    : [well("keys", "The keys are there and sign.")];
}

function isOpenToOthers(file: string): boolean {
  return process.platform !== "win32" && (statSync(file).mode & 0o077) !== 0;
}
