/**
 * A lot as it is typed on a form or stands in a row of a table, and what it is read as.
 */
import type { Ingredient } from "#core/ingredient.ts";
import type { Currency } from "#core/price/money.ts";
import type { LotRow } from "../storage/lots.ts";
import { readAmount, writeMass } from "./amount.ts";
import { readCertificate } from "./certificate.ts";
import { type DayOrder, readDay } from "./days.ts";
import { type Fault } from "../typed/fault.ts";
import { NOTE_LONGEST, lengthFault } from "../typed/length.ts";
import { NAME_LENGTH_MOST, type Read } from "./ingredient-fields.ts";
import { cleanText } from "../typed/text.ts";
import { readPrice, writePrice } from "./price-text.ts";

export const LOT_FIELDS = [
  ...(["code", "supplier", "quantity", "cost", "free", "receivedOn", "bestBefore"] as const),
  ...(["note", "fattyAcids", "sn2", "triacylglycerols", "solidFat"] as const),
];
export type LotFields = Readonly<Record<(typeof LOT_FIELDS)[number], string>>;

export type LotWords = Pick<
  LotRow,
  | "code"
  | "supplier"
  | "receivedOn"
  | "bestBefore"
  | "receivedMg"
  | "costMinor"
  | "certificate"
  | "note"
>;

export interface LotGround {
  /** What the lot is of. */
  readonly ingredient: Ingredient;
  readonly currency: Currency;
  /** ISO day */
  readonly today: string;
  readonly dayOrder?: DayOrder;
}

/** Read the fields. */
export function readLot(fields: LotFields, ground: LotGround): Read<LotWords> {
  const { ingredient, currency } = ground;
  const faults: Fault[] = [];
  const fault = (field: string, sentence: string) => void faults.push({ field, sentence });
  const text = (field: keyof LotFields, what: string, most: number): string => {
    const value = cleanText(fields[field]);
    const long = lengthFault(what, value, most);
    if (long) fault(field, long);
    return value;
  };
  const code = text("code", "the lot code", NAME_LENGTH_MOST);
  if (code === "") {
    fault("code", "The lot code is missing. If the pack bears none, write one of your own on it.");
  }
  const amount = readAmount(fields.quantity, ingredient);
  if ("fault" in amount) fault("quantity", amount.fault);
  const cost = fields.cost.trim() === "" ? { minor: null } : readPrice(fields.cost, currency);
  if ("fault" in cost) fault("cost", cost.fault);
  else if (cost.minor === 0 && fields.free === "") {
    fault("cost", "The cost is zero. If it cost you nothing, say so; else write what you paid.");
  }
  const days = readDays(fields, ground, fault);
  const certificate = readCertificate(fields, ingredient);
  if ("faults" in certificate) faults.push(...certificate.faults);
  const read = {
    code,
    supplier: text("supplier", "the supplier’s name", NAME_LENGTH_MOST),
    ...days,
    receivedMg: "mg" in amount ? amount.mg : 0,
    costMinor: "minor" in cost ? cost.minor : null,
    certificate: "read" in certificate ? certificate.read : null,
    note: text("note", "the note", NOTE_LONGEST),
  };
  return faults.length > 0 ? { faults } : { read };
}

function readDays(
  fields: LotFields,
  { today, dayOrder }: LotGround,
  fault: (field: string, sentence: string) => void,
): Pick<LotWords, "receivedOn" | "bestBefore"> {
  const received = fields.receivedOn.trim() === "" ? today : fields.receivedOn;
  const came = readDay(received, today, dayOrder);
  if ("fault" in came) fault("receivedOn", came.fault);
  else if (came.day > today) {
    fault("receivedOn", `The day received, ${came.day}, is still to come. Today is ${today}.`);
  }
  const keeps =
    fields.bestBefore.trim() === "" ? undefined : readDay(fields.bestBefore, today, dayOrder);
  if (keeps && "fault" in keeps) fault("bestBefore", keeps.fault);
  else if (keeps && "day" in came && keeps.day < came.day) {
    fault(
      "bestBefore",
      `Best before ${keeps.day} is earlier than the day received, ${came.day}. Check both days.`,
    );
  }
  return {
    receivedOn: "day" in came ? came.day : today,
    bestBefore: keeps && "day" in keeps ? keeps.day : null,
  };
}

/** A certificate's figures as typed; part of every lot form. */
export type CertificateFields = Pick<
  LotFields,
  "fattyAcids" | "sn2" | "triacylglycerols" | "solidFat"
>;

/** The fields of a lot, as a form or a table shows them. */
export function lotFieldsOf(
  lot: LotWords,
  currency: Currency,
  certificate: CertificateFields,
): LotFields {
  return {
    code: lot.code,
    supplier: lot.supplier,
    quantity: writeMass(lot.receivedMg),
    cost: writePrice(lot.costMinor, currency),
    free: lot.costMinor === 0 ? "yes" : "",
    receivedOn: lot.receivedOn,
    bestBefore: lot.bestBefore ?? "",
    note: lot.note,
    ...certificate,
  };
}
