/**
 * What the commands for a database on a machine of one's own are told: files, and which database.
 */
import { type ParseArgsConfig, parseArgs } from "node:util";
import { Refusal } from "../problem.ts";
import { DATABASE_DEFAULT } from "../settings.ts";
import { isHostName } from "../shops-by-host.ts";
import { databaseIn } from "../shops-folder.ts";

type Options = NonNullable<ParseArgsConfig["options"]>;

/**
 * Read the words of a command.
 * @param usage the command as it is typed, for the refusal
 * @param files how many file names it takes
 * @param more options besides `--database FILE` and `--shop HOST`
 * @returns `shop` is the host name of one of several; the database is that of the shop, else what was said, else
 *   SOFTSET_DATABASE, else the usual place
 * @throws Refusal request.command.unusable, also where there are several shops and none is said
 */
export function readDatabaseCommand(
  rest: readonly string[],
  usage: string,
  files: number,
  more: Options = {},
) {
  const say = (what: string) =>
    new Refusal("request.command.unusable", `${what} Say it so: ${usage}`);
  const parsed = (() => {
    try {
      return parseArgs({
        args: [...rest],
        options: { database: { type: "string" }, shop: { type: "string" }, ...more },
        allowPositionals: true,
        strict: true,
      });
    } catch (error) {
      throw say(`${(error as Error).message}.`);
    }
  })();
  const { positionals } = parsed;
  const values: Readonly<Record<string, unknown>> = parsed.values;
  if (positionals.length !== files || positionals.includes("")) {
    throw say(files === 0 ? "This command takes no file." : "Say which file.");
  }
  const said = values["database"] as string | undefined;
  const shop = values["shop"] as string | undefined;
  const folder = process.env["SOFTSET_SHOPS"];
  if (said !== undefined && shop !== undefined) throw say("Say --shop or --database, not both.");
  if (shop !== undefined && !folder) throw say("--shop is of use where SOFTSET_SHOPS is set.");
  if (shop !== undefined && !isHostName(shop)) throw say(`“${shop}” is no host name.`);
  // A copy that is only looked through is no shop's.
  if (folder && said === undefined && shop === undefined && !values["check"]) {
    throw say("There are several shops here: add --shop and the host name of one.");
  }
  // An empty variable counts as none, as it does for the service.
  const database =
    folder && shop !== undefined
      ? databaseIn(folder, shop)
      : said || process.env["SOFTSET_DATABASE"] || DATABASE_DEFAULT;
  return { file: positionals[0] ?? "", shop, database, values };
}
