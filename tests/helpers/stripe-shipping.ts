/**
 * Shipping inside the stand-in for Stripe's API: what may be asked for, and what a session says once the customer has
 * chosen.
 */

export interface ShippingForm {
  shipping_address_collection?: { allowed_countries?: string[] };
  shipping_options?: {
    shipping_rate_data?: {
      display_name: string;
      fixed_amount?: { amount: number; currency: string };
      delivery_estimate?: Record<"minimum" | "maximum", { value: number } | undefined>;
    };
  }[];
}

export interface Address {
  readonly line1: string;
  readonly line2?: string | null;
  readonly city: string;
  readonly state?: string | null;
  readonly postal_code: string;
  readonly country: string;
}

const OPTIONS_MOST = 5;
/** Countries the service does not send to (SDK typings). */
const NOT_SENT_TO = new Set("AS CX CC CU HM IR KP MH FM NF MP PW SY UM VI".split(" "));
const ADDRESS: Address = {
  ...{ line1: "7 Fen Lane", line2: null, city: "Ely" },
  ...{ state: null, postal_code: "CB7 4AA", country: "GB" },
};

/** The parameter that is wrong; nothing when all is well. */
export function shippingFault(asked: ShippingForm, currency: string): string | false {
  const { shipping_options: options = [], shipping_address_collection: collection } = asked;
  if (options.length > OPTIONS_MOST) return "shipping_options";
  for (const [at, { shipping_rate_data: rate }] of options.entries()) {
    const { amount = Number.NaN, currency: its } = rate?.fixed_amount ?? {};
    const name = rate?.display_name ?? "";
    const days = Object.values(rate?.delivery_estimate ?? {});
    const isFit =
      Number.isInteger(amount) &&
      amount >= 0 &&
      its === currency &&
      name !== "" &&
      name.length <= 100;
    if (!isFit || days.some((each) => each && !(each.value > 0))) return `shipping_options[${at}]`;
  }
  const countries = collection?.allowed_countries;
  if (countries?.length === 0 || countries?.some((code) => NOT_SENT_TO.has(code))) {
    return "shipping_address_collection[allowed_countries]";
  }
  return false;
}

/** Fields of a session that was paid for. */
export function shippingOf(
  asked: ShippingForm,
  { way = 0, address = ADDRESS }: { readonly way?: number; readonly address?: Address },
) {
  const rate = asked.shipping_options?.[way]?.shipping_rate_data;
  const amount = rate?.fixed_amount?.amount ?? 0;
  return {
    shipping_cost: rate
      ? {
          ...{ amount_subtotal: amount, amount_tax: 0, amount_total: amount },
          shipping_rate: { id: "shr_1", display_name: rate.display_name },
        }
      : null,
    collected_information: asked.shipping_address_collection
      ? { shipping_details: { name: "Wren Fenner", address } }
      : null,
  };
}
