/**
 * A process of its own in which all visitors live. First as many at once as there is room for, which is how much the
 * shop can do; then as many as come by chance at a rate, whether or not the shop keeps up, so that waiting is counted.
 */
import { chanceFrom } from "#core/order/room/sequence.ts";
import { exponential } from "../helpers/exponential.ts";
import { Asker, NotAnswered, type Visitor } from "./ask.ts";
import { type FaultSpan, isOn } from "./fault-plan.ts";
import { Workshop } from "./makers.ts";
import {
  type Town,
  buyAtHostShop,
  buyAtTill,
  comeBack,
  lookAround,
  lookAtOffers,
} from "./shoppers.ts";
import { beSlow } from "./slow-clients.ts";
import { Tally, type TallyReport } from "./tally.ts";

export interface VisitorsWanted {
  readonly url: string;
  readonly makerLink: string;
  readonly apiKey: string;
  readonly paymentsUrl: string;
  readonly seed: number;
}

export type VisitorsTold =
  | { readonly what: "open"; readonly wanted: VisitorsWanted }
  | { readonly what: "measure"; readonly ms: number }
  /** Nobody new comes in while the shop is behind with telling. */
  | { readonly what: "doors"; readonly areOpen: boolean }
  | {
      readonly what: "hold";
      /** Visits a second. */
      readonly rate: number;
      readonly ms: number;
      readonly plan: readonly FaultSpan[];
    };

export interface Held {
  readonly tally: TallyReport;
  readonly visits: number;
  /** Visits that were not begun, because far too many were under way. */
  readonly turnedAway: number;
  readonly placed: readonly string[];
  readonly paid: readonly string[];
}

export type VisitorsTell =
  | { readonly what: "opened" }
  /** Visits a second that came to their end, nobody waiting between them. */
  | { readonly what: "measured"; readonly rate: number }
  | { readonly what: "held"; readonly held: Held };

/** Visits under way while it is measured how much the shop can do. */
const AT_ONCE = 24;
/** The first part of it warms the shop up and is not counted. */
const WARM_PART = 0.25;
const LOOKS_EVERY_MS = 10;
/** A queue as long as this is a shop that has stopped. */
const UNDER_WAY_MOST = 8000;

/** In a hundred visits; own choice: many look, some buy, and the bench keeps up with them. */
const VISITS = [
  [64, (visitor: Visitor, town: Town) => lookAround(visitor, town)],
  [8, (visitor: Visitor, town: Town) => buyAtTill(visitor, town)],
  [5, (visitor: Visitor, town: Town) => buyAtHostShop(visitor, town)],
  [14, (visitor: Visitor, town: Town) => comeBack(visitor, town)],
  [7.5, (visitor: Visitor, town: Town, workshop: Workshop) => workshop.lookThrough(visitor, town)],
  [1.5, (visitor: Visitor, town: Town, workshop: Workshop) => workshop.make(visitor, town)],
] as const;

let tally = new Tally();
let asker: Asker;
let town: Town;
let workshop: Workshop;
let chance = chanceFrom(1);
let url = "";
let areDoorsOpen = true;

const tell = (told: VisitorsTell) => void process.send!(told);

async function open(wanted: VisitorsWanted): Promise<void> {
  chance = chanceFrom(wanted.seed);
  url = wanted.url;
  asker = new Asker(url, tally, chance);
  const visitor = asker.visitor(Date.now());
  workshop = await Workshop.open(visitor, wanted.makerLink);
  const press = async (what: string, session: string) => {
    const answer = await fetch(`${wanted.paymentsUrl}/${what}/${session}`, { method: "POST" });
    if (!answer.ok) throw new Error(`the payment page has no ${session}`);
    return await answer.json();
  };
  town = {
    pay: async (session) => (await press("pay", session)) as { payload: string; header: string },
    heardOf: async (session) => void (await press("heard", session)),
    ...{ chance, apiKey: wanted.apiKey, offers: await lookAtOffers(visitor) },
    books: { placed: new Set(), paid: new Set(), orders: [], toMake: new Map() },
  };
}

async function visit(meantAt: number): Promise<void> {
  let at = chance() * 100;
  const [, going] = VISITS.find(([part]) => (at -= part) < 0) ?? VISITS[0];
  try {
    await going(asker.visitor(meantAt), town, workshop);
  } catch (error) {
    // Counted where it happened; everything else is a fault of this program and stops it.
    if (!(error instanceof NotAnswered)) throw error;
  }
}

async function measure(ms: number): Promise<number> {
  const began = Date.now();
  const [from, to] = [began + ms * WARM_PART, began + ms];
  let visits = 0;
  const goOn = async () => {
    while (Date.now() < to) {
      if (!areDoorsOpen) {
        await new Promise((resolve) => setTimeout(resolve, LOOKS_EVERY_MS));
        continue;
      }
      await visit(Date.now());
      const now = Date.now();
      if (now >= from && now < to) visits += 1;
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, goOn));
  return (visits * 1000) / (to - from);
}

async function hold(rate: number, ms: number, plan: readonly FaultSpan[]): Promise<Held> {
  tally = new Tally();
  asker.close();
  asker = new Asker(url, tally, chance);
  asker.plan = plan;
  const end = Date.now() + ms;
  const underWay = new Set<Promise<void>>();
  let [visits, turnedAway] = [0, 0];
  const slow = slowSpans(plan);
  for (let next = Date.now(); next < end; next += exponential(chance, 1000 / rate)) {
    const early = next - Date.now();
    if (early > 1) await new Promise((resolve) => setTimeout(resolve, early));
    if (underWay.size > UNDER_WAY_MOST) {
      turnedAway += 1;
      continue;
    }
    const going: Promise<void> = visit(next).finally(() => underWay.delete(going));
    underWay.add(going);
    visits += 1;
  }
  await Promise.all([...underWay, slow]);
  const { placed, paid } = town.books;
  return { tally: tally.report(), visits, turnedAway, placed: [...placed], paid: [...paid] };
}

/** Slow clients, whenever the plan has them. */
async function slowSpans(plan: readonly FaultSpan[]): Promise<void> {
  for (const { kind, from } of plan) {
    if (kind !== "slow-clients") continue;
    await new Promise((resolve) => setTimeout(resolve, from - Date.now()));
    await beSlow(url, tally, chance, () => !isOn(plan, "slow-clients"));
  }
}

process.on("message", (told: VisitorsTold) => {
  if (told.what === "doors") {
    areDoorsOpen = told.areOpen;
    return;
  }
  const done =
    told.what === "open"
      ? open(told.wanted).then(() => tell({ what: "opened" }))
      : told.what === "measure"
        ? measure(told.ms).then((rate) => tell({ what: "measured", rate }))
        : hold(told.rate, told.ms, told.plan).then((held) => tell({ what: "held", held }));
  done.catch((error: unknown) => {
    console.error(error);
    process.exit(1);
  });
});
process.on("disconnect", () => process.exit(0));
