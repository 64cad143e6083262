/**
 * The command line: `softset <command> ...`. Answers on standard output, problems as JSON on standard error.
 * Exit code 0 when the command did its work, whatever it found; 2 when the input could not be used.
 */
import { demoSqlCommand, keysCommand, shopSqlCommand, signInSqlCommand } from "./commands/edge.ts";
import { explainCommand } from "./commands/explain.ts";
import { judgeCommand } from "./commands/judge.ts";
import { nearestCommand } from "./commands/nearest.ts";
import { roomCommand } from "./commands/room.ts";
import { Refusal, problemOf } from "./problem.ts";

const HELP = `softset: judge whipped body butter blends

  softset judge FILE     judge the blend described in FILE (JSON), or standard input with -
  softset explain FILE   say which ingredients and kinds of fat make its solids, same FILE
  softset nearest FILE   find the nearest blend that passes its rules, same FILE with bounds
  softset room FILE      say how much of what a product's bounds allow can be ordered

For a shop at the edge:

  softset keys                  make the secrets of a new shop (SOFTSET_KEYS)
  softset demo-sql              SQL that puts the demo shop into an empty database
  softset shop-sql --name "My shop" --currency EUR
                                SQL that puts an empty shop of your own into an empty database;
                                --locale, --country and --time-zone may be said too
  softset sign-in-sql SHOP URL  a sign-in link for the maker, and the SQL that makes it good

The input and the answer are described in the README, under "From the command line".
`;

const COMMANDS: Readonly<Record<string, (rest: readonly string[]) => Promise<string>>> = {
  judge: judgeCommand,
  explain: explainCommand,
  room: roomCommand,
  nearest: nearestCommand,
  keys: keysCommand,
  "demo-sql": demoSqlCommand,
  "shop-sql": shopSqlCommand,
  "sign-in-sql": signInSqlCommand,
};

async function main([name = "", ...rest]: readonly string[]): Promise<number> {
  if (name === "" || name === "help" || name === "--help" || name === "-h") {
    process.stdout.write(HELP);
    return 0;
  }
  try {
    const command = COMMANDS[name];
    if (!command) {
      throw new Refusal(
        "request.command.unknown",
        `There is no command “${name}”; see softset help.`,
      );
    }
    process.stdout.write(await command(rest));
    return 0;
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    process.stderr.write(`${JSON.stringify(problemOf(error, "urn:softset:command"), null, 2)}\n`);
    return 2;
  }
}

process.exitCode = await main(process.argv.slice(2));
