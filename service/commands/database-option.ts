/**
 * What the commands for a database on a machine of one's own are told: files, and which database.
 */
import { type ParseArgsConfig, parseArgs } from "node:util";
import { Refusal } from "../problem.ts";
import { DATABASE_DEFAULT } from "../settings.ts";

type Options = NonNullable<ParseArgsConfig["options"]>;

/**
 * Read the words of a command.
 * @param usage the command as it is typed, for the refusal
 * @param files how many file names it takes
 * @param more options besides `--database FILE`
 * @returns the database is what was said, else SOFTSET_DATABASE, else the usual place
 * @throws Refusal request.command.unusable
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
        options: { database: { type: "string" }, ...more },
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
  // An empty variable counts as none, as it does for the service.
  const database = said || process.env["SOFTSET_DATABASE"] || DATABASE_DEFAULT;
  return { file: positionals[0] ?? "", database, values };
}
