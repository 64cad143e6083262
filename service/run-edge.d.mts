import type { ChildProcess } from "node:child_process";

export function openEdge(options: {
  readonly port: number;
  readonly state: string;
  readonly secrets: string;
  readonly show: boolean;
}): Promise<{ readonly url: string; readonly link: string; readonly worker: ChildProcess }>;
