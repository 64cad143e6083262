/**
 * Whether a till can take an amount of money, asked before the payment service is.
 *
 * The SDK passes on whatever it is given (NaN goes out as the text "NaN"), and a refusal by the
 * payment service would stand in front of the customer.
 */
import { AMOUNT_GREATEST_MINOR } from "#core/price/money.ts";
import { TILL_CURRENCIES } from "./currency-table.ts";
import { type Charge, TillRefusal } from "./till.ts";

/**
 * Most jars of one order: the payment service takes no higher quantity (SDK typings,
 * `adjustable_quantity`).
 */
const QUANTITY_MOST = 999_999;

/** Most ways to send an order that a payment page shows (SDK typings, `shipping_options`). */
export const CARRIAGE_WAYS_MOST = 5;

/**
 * Refuse a charge whose money cannot be taken.
 * @param charge currency, price of a jar [minor units] and jars; a whole `Charge` will do
 * @throws TillRefusal `payment.charge.invalid`, with a message that names the limit
 */
export function checkCharge({
  currency: code,
  unitAmountMinor,
  quantity,
  taxMinor,
  carriage,
  taxInclusive = taxMinor === undefined,
}: Pick<Charge, "currency" | "unitAmountMinor" | "quantity" | "taxMinor" | "carriage"> &
  Partial<Pick<Charge, "taxInclusive">>): void {
  const currency = TILL_CURRENCIES.get(code);
  if (!currency) refuse(`the till cannot charge the currency ${JSON.stringify(code)}`);
  if (!isCount(quantity) || quantity > QUANTITY_MOST) {
    refuse(`the quantity must be a whole number from 1 to ${QUANTITY_MOST}, not ${quantity}`);
  }
  if (!isCount(unitAmountMinor)) {
    refuse(`the price must be a whole number of minor units above 0, not ${unitAmountMinor}`);
  }
  const { stepMinor, least } = currency;
  if (unitAmountMinor % stepMinor !== 0) {
    refuse(`a price in ${code} must be a multiple of ${stepMinor} minor units`);
  }
  if (taxMinor !== undefined) {
    if (taxInclusive) refuse("the price holds its tax already: tax on top would charge it twice");
    if (!isCount(taxMinor) || taxMinor % stepMinor !== 0) {
      refuse(`the tax must be a whole multiple of ${stepMinor} minor units, not ${taxMinor}`);
    }
  }
  const totalMinor = unitAmountMinor * quantity + (taxMinor ?? 0);
  const dearestMinor = totalMinor + dearestCarriage(carriage, stepMinor);
  if (dearestMinor > AMOUNT_GREATEST_MINOR) {
    refuse(`the total of ${dearestMinor} is above ${AMOUNT_GREATEST_MINOR} minor units`);
  }
  // With free carriage nothing comes on top, so the jars alone must reach it.
  if (least && totalMinor < least.minor) {
    refuse(`the least charge in ${code} is ${least.minor} minor units, not ${totalMinor}`);
  }
}

/** Price of the dearest way to send it; 0 when nothing is sent [minor units] */
function dearestCarriage(carriage: Charge["carriage"], stepMinor: number): number {
  if (!carriage) return 0;
  const { length } = carriage.ways;
  if (length < 1 || length > CARRIAGE_WAYS_MOST) {
    refuse(`there must be 1 to ${CARRIAGE_WAYS_MOST} ways to send it, not ${length}`);
  }
  for (const { minor } of carriage.ways) {
    if (!(minor === 0 || isCount(minor)) || Object.is(minor, -0) || minor % stepMinor !== 0) {
      refuse(`carriage must be a whole multiple of ${stepMinor} minor units, not ${minor}`);
    }
  }
  return Math.max(...carriage.ways.map(({ minor }) => minor));
}

/** Whole and above 0; -0, NaN, Infinity and 1e21 are not. */
function isCount(value: unknown): value is number {
  return Number.isSafeInteger(value) && (value as number) > 0;
}

function refuse(message: string): never {
  throw new TillRefusal("payment.charge.invalid", message);
}
