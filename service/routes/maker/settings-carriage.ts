/**
 * Carriage as a page of the settings.
 */
import {
  carriagePage,
  fieldsOfCarriage,
  readCarriage,
  typedCarriage,
} from "../../pages/maker-shop-carriage.ts";
import { particularsOf } from "../../particulars.ts";
import type { Shop } from "../../ports.ts";
import type { ShopRow } from "../../storage/shops.ts";
import { settingsPartRoutes } from "./settings-part.ts";

const currencyOf = ({ currency: code, currencyExponent: exponent }: ShopRow) => ({
  code,
  exponent,
});

export function carriageRoutes(shop: Shop) {
  return settingsPartRoutes(shop, {
    href: "/maker/shop/carriage",
    template: "maker-shop-carriage",
    fieldsOf: (owner) => fieldsOfCarriage(particularsOf(owner), currencyOf(owner)),
    typed: typedCarriage,
    read: (fields, owner) => {
      const { carriage: _carriage, deliverTo: _deliverTo, ...rest } = particularsOf(owner);
      const read = readCarriage(fields, rest, currencyOf(owner), shop.numbers.id);
      return "faults" in read ? read : { particulars: { ...rest, ...read.kept } };
    },
    model: (owner, says) =>
      carriagePage(owner.revision, particularsOf(owner), currencyOf(owner), says),
  });
}
