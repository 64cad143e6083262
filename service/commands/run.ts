/**
 * The commands by name: what `softset` does, apart from where its answer goes.
 */
import { backupCommand, restoreCommand } from "./backup.ts";
import { contentsCommand } from "./contents.ts";
import { doctorCommand } from "./doctor.ts";
import { demoSqlCommand, keysCommand, shopSqlCommand, signInSqlCommand } from "./edge.ts";
import { explainCommand } from "./explain.ts";
import { judgeCommand } from "./judge.ts";
import { exportCommand, importCommand } from "./move.ts";
import { jsonText } from "./json-text.ts";
import { nearestCommand } from "./nearest.ts";
import { recordCommand } from "./record.ts";
import { roomCommand } from "./room.ts";
import { Refusal, problemOf } from "../problem.ts";
import { asDatabaseFault } from "../storage/database-fault.ts";

const HELP = `softset: judge whipped body butter blends, and look after the shop that sells them

  softset judge FILE     judge the blend described in FILE (JSON), or standard input with -
  softset explain FILE   say which ingredients and kinds of fat make its solids, same FILE
  softset nearest FILE   find the nearest blend that passes its rules, same FILE with bounds
  softset room FILE      say how much of what a product's bounds allow can be ordered
  softset contents FILE  say whether the jars of a batch hold what their label says
  softset record verify FILE
                         say whether an exported batch record is as it was written

For a shop on a machine of its own (SOFTSET_DATABASE or --database says which; of several shops in
one folder, SOFTSET_SHOPS says the folder and --shop the host name):

  softset start                 open the shop of this folder; the first time it is the demo
  softset doctor                say what is wrong and how to mend it: exit code 1 when anything is
  softset backup FILE           copy the database to a new file, also while the service runs
  softset backup --check FILE   look through such a copy: exit code 1 when it is not whole
  softset restore FILE          put a copy where the database is wanted; never over one
  softset export FILE.sql       write all of it down for a database at the edge
  softset import FILE.sql       make a database of such a file, or of “wrangler d1 export”

For a shop at the edge:

  softset keys                  make the secrets of a new shop (SOFTSET_KEYS)
  softset demo-sql              SQL that puts the demo shop into an empty database
  softset shop-sql --name "My shop" --currency EUR
                                SQL that puts an empty shop of your own into an empty database;
                                --locale, --country and --time-zone may be said too
  softset sign-in-sql SHOP URL  a sign-in link for the maker, and the SQL that makes it good

The input and the answer are described in the README, under "From the command line".
`;

/** An answer with a status of its own. */
export interface Told {
  readonly status: 0 | 1;
  readonly stdout: string;
}

const COMMANDS: Readonly<Record<string, (rest: readonly string[]) => Promise<string | Told>>> = {
  doctor: doctorCommand,
  backup: backupCommand,
  restore: restoreCommand,
  export: exportCommand,
  import: importCommand,
  judge: judgeCommand,
  explain: explainCommand,
  room: roomCommand,
  nearest: nearestCommand,
  contents: contentsCommand,
  record: recordCommand,
  keys: keysCommand,
  "demo-sql": demoSqlCommand,
  "shop-sql": shopSqlCommand,
  "sign-in-sql": signInSqlCommand,
};

export interface Ran {
  /**
   * 0 when the command did its work, whatever it found; 1 when one that looks after the shop found something to mend;
   * 2 when the input could not be used.
   */
  readonly status: 0 | 1 | 2;
  readonly stdout: string;
  /** A problem as JSON; empty when there is none. */
  readonly stderr: string;
}

/**
 * Run a command.
 * @param words what was typed after `softset`
 * @throws only what is no fault of the input
 */
export async function runCommand([name = "", ...rest]: readonly string[]): Promise<Ran> {
  if (name === "" || name === "help" || name === "--help" || name === "-h") {
    return { status: 0, stdout: HELP, stderr: "" };
  }
  try {
    const command = COMMANDS[name];
    if (!command) {
      throw new Refusal(
        "request.command.unknown",
        `There is no command “${name}”; see softset help.`,
      );
    }
    const told = await command(rest);
    return { ...(typeof told === "string" ? { status: 0, stdout: told } : told), stderr: "" };
  } catch (error) {
    const refusal = error instanceof Refusal ? error : asDatabaseFault(error);
    if (!refusal) throw error;
    const problem = problemOf(refusal, "urn:softset:command");
    return { status: 2, stdout: "", stderr: jsonText(problem) };
  }
}
