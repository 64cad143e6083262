/**
 * Gathers lists of statements that arrive together into one commit.
 *
 * A durable commit waits for the disk, and a disk takes one list or thirty in the same time. Each caller still waits
 * until its own list is safe, and a list that fails is undone alone. For one process only: Workers ties a request's I/O
 * to that request, so there each writes for itself.
 */

/** More lists than this wait for the next commit. */
const GATHERED_MOST = 50;

/**
 * Commits lists at once.
 * @returns for each list nothing, or why it alone was undone
 * @throws when the commit itself failed: then nothing of any list is stored
 */
export type Commit<List> = (lists: readonly List[]) => readonly unknown[];

interface Waiting<List> {
  readonly list: List;
  readonly done: () => void;
  readonly fail: (error: unknown) => void;
}

/**
 * A function that writes one list, in company.
 * @param nextTurn resolves when the requests at hand have had their turn
 */
export function gatherLists<List>(
  commit: Commit<List>,
  nextTurn: () => Promise<void>,
): (list: List) => Promise<void> {
  let waiting: Waiting<List>[] = [];
  let running = false;

  async function commitAll(): Promise<void> {
    running = true;
    while (waiting.length > 0) {
      await nextTurn();
      const group = waiting.slice(0, GATHERED_MOST);
      waiting = waiting.slice(GATHERED_MOST);
      settle(commit, group);
    }
    running = false;
  }

  return (list) =>
    new Promise((done, fail) => {
      waiting.push({ list, done, fail });
      if (!running) void commitAll();
    });
}

function settle<List>(commit: Commit<List>, group: readonly Waiting<List>[]): void {
  try {
    const errors = commit(group.map(({ list }) => list));
    for (const [at, { done, fail }] of group.entries()) {
      if (errors[at] === undefined) done();
      else fail(errors[at]);
    }
  } catch (error) {
    for (const { fail } of group) fail(error);
  }
}
