/**
 * `softset record verify FILE`: an exported batch record in, whether its chain is unbroken as JSON out.
 */
import * as z from "zod";
import { type VerifiedExport, verifyExport } from "../batches/record-export.ts";
import { faultWords } from "../batches/record-words.ts";
import { Refusal } from "../problem.ts";
import { pointersOf } from "../typed/pointers.ts";
import { countWords } from "../words/count-words.ts";
import { readJson } from "./blend-file.ts";
import { jsonText } from "./json-text.ts";

/**
 * Verify the record that a file holds.
 * @param rest "verify" and one file name, or "-" for standard input
 * @returns verdict, a sentence, and every entry that does not fit, as JSON text
 * @throws Refusal when the file cannot be read or is no exported record
 */
export async function recordCommand([what, ...rest]: readonly string[]): Promise<string> {
  if (what !== "verify") {
    throw new Refusal("request.command.unusable", "Say it so: softset record verify FILE");
  }
  const verified = await verifyExport(readJson("record verify", rest));
  if (verified instanceof z.ZodError) {
    throw new Refusal("request.body.invalid", "The input is no exported batch record.", {
      errors: pointersOf(verified),
    });
  }
  return jsonText(answer(verified));
}

function answer({ batch, entries, head, headDiffers, faults }: VerifiedExport) {
  const told = faults.map((each) => ({ ...each, sentence: faultWords(each) }));
  const count = countWords(entries, "entry", "entries");
  if (told.length > 0) {
    const sentence = `The record of batch ${batch} does not fit at ${told.length} of ${count}.`;
    return { verdict: "broken", sentence, batch, entries, head, faults: told };
  }
  if (headDiffers) {
    const sentence = "Entries are missing at the end: the last one is not the one this file names.";
    return { verdict: "broken", sentence, batch, entries, head, faults: told };
  }
  const sentence = `Unbroken, ${count}.`;
  return { verdict: "unbroken", sentence, batch, entries, head, faults: told };
}
