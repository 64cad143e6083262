/**
 * A process of its own for everybody the shop calls: payment service, mail server, host shop. They fail by the plan.
 */
import { chanceFrom } from "#core/order/room/sequence.ts";
import type { Injected } from "./explain.ts";
import type { FaultSpan } from "./fault-plan.ts";
import { startPayments } from "./outside-payments.ts";
import { startReaders } from "./outside-readers.ts";

export interface OutsideWanted {
  readonly webhookSecret: string;
  readonly eventSecret: string;
  readonly seed: number;
}

export type OutsideTold =
  | { readonly what: "open"; readonly wanted: OutsideWanted }
  | { readonly what: "plan"; readonly plan: readonly FaultSpan[] }
  | { readonly what: "sum up" };

export interface OutsideSeen {
  readonly injected: readonly Injected[];
  /** How often each message arrived, by its id. */
  readonly arrived: readonly (readonly [id: string, times: number])[];
  /** Ids of orders that money was taken for. */
  readonly paidOrders: readonly string[];
}

export type OutsideTell =
  | {
      readonly what: "opened";
      readonly paymentsUrl: string;
      readonly mailUrl: string;
      readonly eventsUrl: string;
    }
  | { readonly what: "seen"; readonly seen: OutsideSeen };

let plan: readonly FaultSpan[] = [];
const injected: Injected[] = [];
let sumUp: () => OutsideSeen;

const tell = (told: OutsideTell) => void process.send!(told);

async function open({ webhookSecret, eventSecret, seed }: OutsideWanted): Promise<void> {
  const told = { plan: () => plan, injected, chance: chanceFrom(seed) };
  const payments = await startPayments(webhookSecret, told);
  const { mailUrl, eventsUrl, arrived } = await startReaders({ ...told, eventSecret });
  sumUp = () => ({ injected, arrived: [...arrived], paidOrders: payments.paidOrders() });
  tell({ what: "opened", paymentsUrl: payments.url, mailUrl, eventsUrl });
}

process.on("message", (told: OutsideTold) => {
  if (told.what === "plan") plan = told.plan;
  else if (told.what === "sum up") tell({ what: "seen", seen: sumUp() });
  else {
    open(told.wanted).catch((error: unknown) => {
      console.error(error);
      process.exit(1);
    });
  }
});
process.on("disconnect", () => process.exit(0));
