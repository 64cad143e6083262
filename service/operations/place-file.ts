/**
 * A finished file put in its place: whole or not at all, and never over one that is there.
 */
import {
  closeSync,
  existsSync,
  fsyncSync,
  linkSync,
  openSync,
  renameSync,
  rmSync,
  unlinkSync,
} from "node:fs";
import { dirname } from "node:path";
import { Refusal } from "../problem.ts";

/** What a file is called while it is being written. */
export const partOf = (target: string): string => `${target}.part`;

/** Remove what an earlier attempt left half written, and what SQLite keeps beside it. */
export function clearPart(target: string): void {
  for (const ending of ["", "-wal", "-shm", "-journal"]) {
    rmSync(`${partOf(target)}${ending}`, { force: true });
  }
}

/** @throws Refusal operations.file.unreadable when there is nothing at the source */
export function refuseMissing(source: string): void {
  if (existsSync(source)) return;
  throw new Refusal("operations.file.unreadable", `There is no file at ${source}.`);
}

/** @throws Refusal operations.file.taken when there is something at the target, .unreadable when it has no folder */
export function refuseTaken(target: string): void {
  if (!existsSync(dirname(target))) {
    throw new Refusal(
      "operations.file.unreadable",
      `There is no folder ${dirname(target)}. Make it first.`,
    );
  }
  if (!existsSync(target)) return;
  throw new Refusal(
    "operations.file.taken",
    `There is a file at ${target} already, and it was left as it is. Name another, or move it away first.`,
  );
}

/**
 * Give a finished part its name. After that it survives a power cut.
 * @throws Refusal operations.file.taken when somebody else has put a file there meanwhile
 */
export function putInPlace(target: string): void {
  const part = partOf(target);
  flush(part);
  try {
    linkSync(part, target); // unlike a rename it never goes over a file
    unlinkSync(part);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "EEXIST") refuseTaken(target);
    // A memory stick or a network disk may know no links.
    if (!["EPERM", "ENOTSUP", "ENOSYS", "EMLINK"].includes(code ?? "")) throw error;
    refuseTaken(target);
    renameSync(part, target);
  }
  flush(dirname(target));
}

/** Put a finished part in the place of the file that is there. */
export function putInstead(target: string): void {
  flush(partOf(target));
  renameSync(partOf(target), target);
  flush(dirname(target));
}

function flush(path: string): void {
  const handle = openSync(path, "r");
  try {
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
}
