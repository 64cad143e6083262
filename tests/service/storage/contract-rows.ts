/**
 * Rows to store in a test, each with ids of its own.
 */
import type { orders } from "#data/schema.ts";
import { DEMO_SHOP } from "#data/seeds/demo.ts";
import type { QuoteRow } from "#service/storage/orders.ts";
import type { NewTestJar } from "#service/storage/test-jars.ts";

type NewOrder = typeof orders.$inferInsert;

export const SHOP = DEMO_SHOP.id;
export const AT = 1_764_000_000;

let serial = 0;
export const fresh = (kind: string) => `${kind}-${++serial}`;

export function aQuote(change: Partial<QuoteRow> = {}): QuoteRow {
  return {
    id: fresh("quote"),
    shopId: SHOP,
    productId: "everyday",
    version: 1,
    snapshot: "{}",
    priceLines: "[]",
    issuedAt: AT,
    expiresAt: AT + 3600,
    ...change,
  };
}

export function anOrder(quoteId: string, change: Partial<NewOrder> = {}) {
  const id = fresh("order");
  return {
    id,
    shopId: SHOP,
    reference: `R${String(serial).padStart(5, "0")}`,
    quoteId,
    state: "placed" as const,
    snapshot: "{}",
    totalMinor: 2900,
    currency: "GBP",
    tillKind: "practice" as const,
    tillKey: `${id}-1`,
    placedAt: AT,
    ...change,
  };
}

export function aBatch() {
  return {
    id: fresh("batch"),
    shopId: SHOP,
    number: fresh("251124"),
    state: "open" as const,
    workOrder: "{}",
    issuedAt: AT,
  };
}

export const A_CONE = { coneDepthTenthMm: 98.5, coneWeightG: 80.25, coneAngleDegrees: 40 };

export function aTestJar(change: Partial<NewTestJar> = {}): NewTestJar {
  return {
    id: fresh("jar"),
    shopId: SHOP,
    title: "Soft shea",
    parts: "[]",
    netMg: 60_000,
    jarUl: 100_000,
    daysRested: 7,
    celsius: 21.5,
    grade: "soft",
    coneDepthTenthMm: null,
    coneWeightG: null,
    coneAngleDegrees: null,
    lot: "",
    batchId: null,
    note: "",
    recordedAt: AT,
    ...change,
  };
}
