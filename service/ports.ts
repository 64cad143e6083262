/**
 * What the app needs from the world; the two entries (Node, workerd) put it together.
 */
import type { Senders } from "./messages/senders.ts";
import type { Clock, Numbers } from "./numbers.ts";
import type { Seals } from "./seals.ts";
import { apiKeysIn } from "./storage/api-keys.ts";
import { batchLotsIn } from "./storage/batch-lots.ts";
import { batchRecordIn } from "./storage/batch-record.ts";
import { batchesIn } from "./storage/batches.ts";
import { csvUploadsIn } from "./storage/csv-uploads.ts";
import type { Database } from "./storage/database.ts";
import { disputesIn } from "./storage/disputes.ts";
import { draftsIn } from "./storage/drafts.ts";
import { eventEndpointsIn } from "./storage/event-endpoints.ts";
import { firstStepsIn } from "./storage/first-steps.ts";
import { hostOrdersIn } from "./storage/host-orders.ts";
import { idempotencyKeysIn } from "./storage/idempotency-keys.ts";
import { ingredientsIn } from "./storage/ingredients.ts";
import { kitchenLawsIn } from "./storage/kitchen-laws.ts";
import { lotsIn } from "./storage/lots.ts";
import { orderListsIn } from "./storage/order-lists.ts";
import { orderSearchIn } from "./storage/order-search.ts";
import { lotCostsIn } from "./storage/lot-costs.ts";
import { messagesIn } from "./storage/messages.ts";
import { orderCareIn } from "./storage/order-care.ts";
import { ordersIn } from "./storage/orders.ts";
import { passkeysIn } from "./storage/passkeys.ts";
import { paymentEventsIn } from "./storage/payment-events.ts";
import { peopleIn } from "./storage/people.ts";
import { shopSettingsIn } from "./storage/shop-settings.ts";
import { productsIn } from "./storage/products.ts";
import { refundsIn } from "./storage/refunds.ts";
import { shelfFilesIn } from "./storage/shelf-files.ts";
import { shopsIn } from "./storage/shops.ts";
import { signInsIn } from "./storage/sign-ins.ts";
import { stockIn } from "./storage/stock.ts";
import { testJarsIn } from "./storage/test-jars.ts";
import { traceIn } from "./storage/trace.ts";
import type { PracticeTill } from "./tills/practice.ts";
import type { Till } from "./tills/till.ts";

/** Bytes of a script, a style sheet or a font: in memory on a machine, a stream at the edge. */
export type AssetBody = Uint8Array<ArrayBuffer> | ReadableStream<Uint8Array<ArrayBuffer>>;

export interface Ports {
  readonly db: Database;
  readonly till: Till;
  /** Set only when the till is the practice till: its page needs to press its buttons. */
  readonly practice: PracticeTill | undefined;
  /** Ways out for mails and events. */
  readonly senders: Senders;
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
  const messages = messagesIn(db);
  const orders = ordersIn(db, messages);
  return {
    shops: shopsIn(db),
    ingredients: ingredientsIn(db),
    orders,
    hostOrders: hostOrdersIn(db, orders),
    orderCare: orderCareIn(db, orders),
    apiKeys: apiKeysIn(db),
    idempotencyKeys: idempotencyKeysIn(db),
    messages,
    eventEndpoints: eventEndpointsIn(db),
    orderLists: orderListsIn(db),
    orderSearch: orderSearchIn(db),
    batches: batchesIn(db, orders),
    batchLots: batchLotsIn(db),
    batchRecord: batchRecordIn(db),
    trace: traceIn(db),
    events: paymentEventsIn(db),
    refunds: refundsIn(db, orders),
    disputes: disputesIn(db, orders),
    signIns: signInsIn(db),
    people: peopleIn(db),
    passkeys: passkeysIn(db),
    shopSettings: shopSettingsIn(db),
    stock: stockIn(db),
    lots: lotsIn(db),
    firstSteps: firstStepsIn(db),
    csvUploads: csvUploadsIn(db),
    shelfFiles: shelfFilesIn(db),
    testJars: testJarsIn(db),
    kitchenLaws: kitchenLawsIn(db),
    drafts: draftsIn(db),
    products: productsIn(db),
    lotCosts: lotCostsIn(db),
  };
}
