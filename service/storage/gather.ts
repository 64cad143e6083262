/**
 * Gathers single writes that arrive together into one commit.
 *
 * A durable commit waits for the disk, and a disk takes one write or thirty in the same time. Each caller still waits
 * until its own row is safe; when a gathered commit fails, every row is tried alone, so that one bad row spoils no
 * other. For one process only: Workers ties a request's I/O to that request, so there each writes for itself.
 */
import type { Database, Statement } from "./database.ts";

type Commit = Database["atomic"];

/** More statements than this wait for the next commit. */
const GATHERED_MOST = 50;

interface Waiting {
  readonly statement: Statement;
  readonly done: () => void;
  readonly fail: (error: unknown) => void;
}

/**
 * A function that writes one statement, in company.
 * @param nextTurn resolves when the requests at hand have had their turn
 */
export function gatherWrites(
  atomic: Commit,
  nextTurn: () => Promise<void>,
): (statement: Statement) => Promise<void> {
  let waiting: Waiting[] = [];
  let running = false;

  async function commitAll(): Promise<void> {
    running = true;
    while (waiting.length > 0) {
      await nextTurn();
      const group = waiting.slice(0, GATHERED_MOST);
      waiting = waiting.slice(GATHERED_MOST);
      await commit(atomic, group);
    }
    running = false;
  }

  return (statement) =>
    new Promise((done, fail) => {
      waiting.push({ statement, done, fail });
      if (!running) void commitAll();
    });
}

async function commit(atomic: Commit, group: readonly Waiting[]): Promise<void> {
  try {
    await atomic(group.map(({ statement }) => statement));
    for (const { done } of group) done();
  } catch (error) {
    if (group.length === 1) group[0]!.fail(error);
    else for (const one of group) await commit(atomic, [one]);
  }
}
