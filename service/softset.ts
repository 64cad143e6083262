/**
 * The command line: `softset <command> ...`. Answers on standard output, problems as JSON on standard error.
 * Exit code 0 when the command did its work, whatever it found; 1 when one that looks after the shop found something to
 * mend; 2 when the input could not be used.
 */
import { runCommand } from "./commands/run.ts";
import { startShopHere } from "./commands/start.ts";

const words = process.argv.slice(2);
if (words.join(" ") === "start") process.exitCode = await startShopHere();
else {
  const { status, stdout, stderr } = await runCommand(words);
  process.stdout.write(stdout);
  process.stderr.write(stderr);
  process.exitCode = status;
}
