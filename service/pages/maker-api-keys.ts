/**
 * What the page of host shops' keys says.
 */
import type { ApiKeyRow } from "../storage/api-keys.ts";
import type { ShopRow } from "../storage/shops.ts";
import { momentIn } from "./maker-pages.ts";

export interface ApiKeysSay {
  /** Id of the key that is made next: a form sent twice makes one. */
  readonly newId: string;
  readonly name: string;
  readonly fault: string;
  /** A secret just made; it is never shown again. */
  readonly made?: { readonly name: string; readonly secret: string };
  readonly url: string;
}

export function apiKeysPage(
  shop: ShopRow,
  rows: readonly ApiKeyRow[],
  { newId, name, fault, made, url }: ApiKeysSay,
) {
  const when = momentIn(shop);
  const keys = rows.map((row) => ({
    id: row.id,
    name: row.name,
    made: when(row.createdAt),
    used: row.lastUsedAt === null ? "" : when(row.lastUsedAt),
    revoked: row.revokedAt === null ? "" : when(row.revokedAt),
  }));
  return {
    title: "Host shops",
    url,
    keys: keys.filter(({ revoked }) => revoked === ""),
    revoked: keys.filter(({ revoked }) => revoked !== ""),
    handed: made ?? null,
    form: { id: newId, name, fault },
  };
}
