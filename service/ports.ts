/**
 * What the app needs from the world; the two entries (Node, workerd) put it together.
 */
import type { Clock, Numbers } from "./numbers.ts";
import type { Seals } from "./seals.ts";
import { batchesIn } from "./storage/batches.ts";
import type { Database } from "./storage/database.ts";
import { ingredientsIn } from "./storage/ingredients.ts";
import { kitchenLawsIn } from "./storage/kitchen-laws.ts";
import { ordersIn } from "./storage/orders.ts";
import { paymentEventsIn } from "./storage/payment-events.ts";
import { shopsIn } from "./storage/shops.ts";
import { signInsIn } from "./storage/sign-ins.ts";
import { testJarsIn } from "./storage/test-jars.ts";
import type { PracticeTill } from "./tills/practice.ts";
import type { Till } from "./tills/till.ts";

/** Bytes of a script, a style sheet or a font: in memory on a machine, a stream at the edge. */
export type AssetBody = Uint8Array<ArrayBuffer> | ReadableStream<Uint8Array<ArrayBuffer>>;

export interface Ports {
  readonly db: Database;
  readonly till: Till;
  /** Set only when the till is the practice till: its page needs to press its buttons. */
  readonly practice: PracticeTill | undefined;
  readonly clock: Clock;
  readonly numbers: Numbers;
  readonly seals: Seals;
  /** Address people reach the shop by, without a trailing slash. */
  readonly url: string;
  /** Scripts, style sheets and fonts by file name; nothing when there is no such file. */
  asset(name: string): Promise<AssetBody | undefined>;
  /** One line for the operator; never personal data. */
  log(line: Readonly<Record<string, unknown>>): void;
}

/** Ports with the stores opened: what actions and routes are handed. */
export type Shop = Ports & ReturnType<typeof storesOf>;

export function openShop(ports: Ports): Shop {
  return { ...ports, ...storesOf(ports.db) };
}

function storesOf(db: Database) {
  const orders = ordersIn(db);
  return {
    shops: shopsIn(db),
    ingredients: ingredientsIn(db),
    orders,
    batches: batchesIn(db, orders),
    events: paymentEventsIn(db),
    signIns: signInsIn(db),
    testJars: testJarsIn(db),
    kitchenLaws: kitchenLawsIn(db),
  };
}
