/**
 * Label settings as a page of the settings.
 */
import { labelSettingsOf } from "../../documents/label-settings.ts";
import {
  fieldsOfLabel,
  labelSettingsPage,
  readLabel,
  typedLabel,
} from "../../pages/maker-shop-labels.ts";
import { particularsOf } from "../../particulars.ts";
import type { Shop } from "../../ports.ts";
import { settingsPartRoutes } from "./settings-part.ts";

export function labelSettingRoutes(shop: Shop) {
  return settingsPartRoutes(shop, {
    href: "/maker/shop/labels",
    template: "maker-shop-labels",
    fieldsOf: (owner) => fieldsOfLabel(labelSettingsOf(particularsOf(owner), owner.locale)),
    typed: typedLabel,
    read: (fields, owner) => {
      const read = readLabel(fields, shop.numbers.id);
      if ("faults" in read) return read;
      return { particulars: { ...particularsOf(owner), label: read.settings } };
    },
    model: (owner, says) =>
      labelSettingsPage(owner.revision, particularsOf(owner).responsible, says),
  });
}
