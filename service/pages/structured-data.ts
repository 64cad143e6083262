/**
 * A product page in the vocabulary of schema.org, for search engines: text of a data block, which no browser runs.
 */
import type { Currency } from "#core/price/money.ts";

export interface SoldProduct {
  readonly name: string;
  readonly words: string;
  readonly url: string;
  readonly seller: string;
  readonly currency: Currency;
  /** Least price of a jar of the maker's own bases; nothing when none can be ordered [minor units] */
  readonly leastMinor: number | undefined;
  readonly taxOnTop: boolean;
  /** Money moves when it is bought. */
  readonly isForSale: boolean;
}

const CONTEXT = "https://schema.org";

/** The block's text, in which nothing can end the block or open another. */
export function structuredData(sold: SoldProduct): string {
  const { name, words, url, seller, leastMinor, currency, taxOnTop, isForSale } = sold;
  const availability = leastMinor !== undefined && isForSale ? "MadeToOrder" : "OutOfStock";
  const price =
    leastMinor === undefined
      ? {}
      : {
          price: (leastMinor / 10 ** currency.exponent).toFixed(currency.exponent),
          priceSpecification: {
            "@type": "PriceSpecification",
            minPrice: leastMinor / 10 ** currency.exponent,
            priceCurrency: currency.code,
            valueAddedTaxIncluded: !taxOnTop,
          },
        };
  const data = {
    ...{ "@context": CONTEXT, "@type": "Product", name, description: words, url },
    offers: {
      ...{ "@type": "Offer", url, ...price, priceCurrency: currency.code },
      availability: `${CONTEXT}/${availability}`,
      itemCondition: `${CONTEXT}/NewCondition`,
      seller: { "@type": "Organization", name: seller },
    },
  };
  return JSON.stringify(data).replaceAll(
    /[<>&\u2028\u2029]/g,
    (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}
