/**
 * Where an input does not have the shape that was asked for.
 */
import type { z } from "zod";

/** More faults than this tell nobody more. */
const TOLD_MOST = 20;

/**
 * @param error what the schema says of the input
 * @returns a JSON pointer (RFC 6901) and a sentence for each fault, the first twenty
 */
export function pointersOf(error: z.ZodError): { pointer: string; detail: string }[] {
  return error.issues
    .slice(0, TOLD_MOST)
    .map(({ path, message }) => ({ pointer: pointerTo(path), detail: message }));
}

/** A place in an input as a JSON pointer; empty for the whole. */
export function pointerTo(path: readonly PropertyKey[]): string {
  return path
    .map((step) => `/${String(step).replaceAll("~", "~0").replaceAll("/", "~1")}`)
    .join("");
}
