import type { ChildProcess } from "node:child_process";

export function openEdge(options: {
  readonly port: number;
  readonly state: string;
  readonly secrets: string;
  readonly show: boolean;
  /** Variables that name a shop of one's own. */
  readonly own?: Readonly<Record<string, string | undefined>>;
}): Promise<{
  readonly url: string;
  readonly link: string;
  /** What whoever named a shop should know of the one that is open; empty when none was named. */
  readonly note: string;
  readonly worker: ChildProcess;
}>;
