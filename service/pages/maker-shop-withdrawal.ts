/**
 * The maker's choice of what customers are told of changing their mind, as fields of the shop's form.
 */
import { WITHDRAWAL_DAYS, WITHDRAWAL_DAYS_MOST, type Withdrawal } from "#core/order/withdrawal.ts";
import { lengthFault } from "../typed/length.ts";
import { readFigure } from "./maker-shop-figures.ts";

export interface WithdrawalFields {
  readonly withdrawal: string;
  readonly withdrawalDays: string;
  readonly withdrawalWords: string;
}

const WORDS_LONGEST = 600;

/** What may be chosen; the empty one leaves it to the law of the shop's country. */
export const WITHDRAWAL_CHOICES: ReadonlyMap<string, string> = new Map([
  ["", "What the law here gives"],
  ["days", "May be sent back within days"],
  ["made-to-wish", "Made to their wish: no right"],
  ["own-words", "My own words"],
]);

export function withdrawalFields(chosen: Withdrawal | undefined): WithdrawalFields {
  return {
    withdrawal: chosen?.kind ?? "",
    withdrawalDays: chosen?.kind === "days" ? String(chosen.days) : "",
    withdrawalWords: chosen?.kind === "own-words" ? chosen.words : "",
  };
}

/**
 * Read the choice; a field that belongs to another choice is left alone.
 * @param fault notes a sentence beside a field
 */
export function readWithdrawal(
  { withdrawal, withdrawalDays, withdrawalWords }: WithdrawalFields,
  fault: (field: keyof WithdrawalFields, sentence: string) => void,
): Withdrawal | undefined {
  if (withdrawal === "") return undefined;
  if (withdrawal === "made-to-wish") return { kind: "made-to-wish" };
  if (withdrawal === "days") {
    const days = readFigure(withdrawalDays, { ...DAYS, must: true });
    if (typeof days === "number") return { kind: "days", days };
    fault("withdrawalDays", days ?? "");
    return undefined;
  }
  if (withdrawal !== "own-words") {
    fault("withdrawal", "Choose one of the answers from the list.");
    return undefined;
  }
  const words = withdrawalWords.replaceAll(/\r\n?/g, "\n").trim();
  if (words === "") fault("withdrawalWords", "Type what customers are to read.");
  const long = lengthFault("it", words, WORDS_LONGEST);
  if (long) fault("withdrawalWords", long);
  return { kind: "own-words", words };
}

const DAYS = {
  what: "The time to send it back",
  unit: "days",
  least: 1,
  greatest: WITHDRAWAL_DAYS_MOST,
  decimals: 0,
  example: WITHDRAWAL_DAYS,
};
