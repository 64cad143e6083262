/**
 * What the practice till's page asks of whoever pretends to pay: the same as a payment service does.
 */
import { readForm } from "../middleware.ts";
import type { PracticeCustomer, PracticeSession } from "../tills/practice.ts";
import { textOf } from "../typed/text.ts";
import type { Context } from "hono";

const NAME_LONGEST = 120;
const FIELD_LONGEST = 200;

/** What was typed, to be shown again. */
export type PracticeFields = Readonly<
  Record<"name" | "email" | "way" | "street" | "city" | "postcode" | "country", string>
>;

const NOBODY: PracticeFields = {
  ...{ name: "", email: "", way: "0", street: "", city: "", postcode: "", country: "" },
};

export function noFields({ carriage }: PracticeSession): PracticeFields {
  return { ...NOBODY, country: carriage?.countries[0] ?? "" };
}

/**
 * Read who pays.
 * @returns the customer, or what is missing where something is to be sent (a key of the words `till`); with what was
 *   typed
 */
export async function readCustomer(
  c: Context,
  { carriage }: PracticeSession,
): Promise<
  { readonly fields: PracticeFields } & (
    { readonly customer: PracticeCustomer } | { readonly fault: string }
  )
> {
  const form = await readForm(c);
  const text = (name: keyof PracticeFields, most = FIELD_LONGEST) =>
    textOf(form, name).slice(0, most);
  const fields: PracticeFields = {
    ...{ name: text("name", NAME_LONGEST), email: text("email"), way: text("way") },
    ...{ street: text("street"), city: text("city") },
    ...{ postcode: text("postcode"), country: text("country") },
  };
  const { name, email, street, city, postcode, country } = fields;
  if (!carriage) return { fields, customer: { name, email } };
  const way = /^\d$/.test(fields.way) ? Number(fields.way) : Number.NaN;
  if (!carriage.ways[way]) return { fields, fault: "fault-way" };
  if (!carriage.countries.includes(country)) return { fields, fault: "fault-country" };
  if (name === "" || street === "" || city === "") {
    return { fields, fault: "fault-where" };
  }
  const deliverTo = { name, lines: [street], city, region: "", postcode, country };
  return { fields, customer: { name, email, carriage: way, deliverTo } };
}
