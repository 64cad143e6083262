/**
 * What a process takes of this machine, as Linux alone tells it (`man 5 proc`).
 */
import { readFileSync } from "node:fs";

/** Linux counts processor time in these [ms] */
const TICK_MS = 10;

/** Memory of a process that is in RAM now [bytes] */
export function residentBytes(pid: number): number {
  const status = readFileSync(`/proc/${pid}/status`, "utf8");
  return Number(/VmRSS:\s+(\d+)/.exec(status)![1]) * 1024;
}

/** Time of the processor that a process has used so far [ms] */
export function processorMs(pid: number): number {
  const afterName = readFileSync(`/proc/${pid}/stat`, "utf8").split(") ").at(-1)!.split(" ");
  return (Number(afterName[11]) + Number(afterName[12])) * TICK_MS;
}
