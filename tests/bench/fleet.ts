/**
 * `node --import tsx tests/bench/fleet.ts`: ten thousand shops with a database each, ordinary minutes, and a sale that
 * all run to; how long requests wait for their database and what is turned away. `SOFTSET_SEED` draws others.
 */
import { chanceFrom } from "#core/order/room/sequence.ts";
import {
  type Demand,
  type Keeping,
  Tally,
  type Work,
  runDatabase,
  zipfShares,
} from "./fleet-model.ts";

const SEED = Number(process.env["SOFTSET_SEED"] ?? 1);
const SHOPS = 10_000;
/** Pages a second over all shops. */
const PAGES = 2_000;
const ORDINARY_S = 120;
const SALE_S = 60;
/** Own choice: at rank 100 of Zipf's law a shop is one of the larger and far from the largest. */
const SALE_RANK = 100;
/** Of the visitors one in twenty asks for a quote, one in a hundred orders; own choice. */
const BUYING = { quoteShare: 0.05, orderShare: 0.01 };
/** Own choice: a person does not wait longer. */
const LONGEST_S = 5;
/** Isolates a hot shop's pages fall on; own choice, as nothing is published. */
const ISOLATES = 100;

const NOTHING_KEPT: Keeping = { isolates: 1, by: "none" };

/** Calls each kind of request makes, as `order-cost.ts` counts them: those that read, and lists that write. */
const CALLS = {
  page: { reads: 1, lists: 0 },
  quote: { reads: 1, lists: 1 },
  /** With its payment and the page after it. */
  order: { reads: 26, lists: 2 },
} as const;
/** Assumed, not measured: how long D1 is busy with one call [s] */
const READ_S = 0.001;
const LIST_S = 0.005;

const timeOf = ({ reads, lists }: { reads: number; lists: number }) =>
  reads * READ_S + lists * LIST_S;
const WORK: Work = {
  pageS: timeOf(CALLS.page),
  quoteS: timeOf(CALLS.quote),
  orderS: timeOf(CALLS.order),
};

const ms = (seconds: number) => `${(seconds * 1000).toFixed(1)} ms`;
const percent = (share: number) => `${(share * 100).toFixed(1)} %`;

function line(...cells: readonly string[]): void {
  console.log(cells.map((cell, at) => (at === 0 ? cell.padEnd(52) : cell.padStart(11))).join(""));
}

function ordinary(): void {
  const chance = chanceFrom(SEED);
  const shares = zipfShares(SHOPS);
  const [pages, buying] = [new Tally(), new Tally()];
  let busiest = 0;
  for (const share of shares) {
    const demand = { ...BUYING, pages: PAGES * share, cachedShare: 0 };
    const time = { seconds: ORDINARY_S, longestS: LONGEST_S, chance };
    const run = runDatabase(demand, WORK, NOTHING_KEPT, time);
    pages.take(run.pages);
    buying.take(run.buying);
    busiest = Math.max(busiest, run.use);
  }
  show(`${SHOPS} shops, ${PAGES} pages/s, nothing kept`, { pages, buying, use: busiest });
}

function sale(what: string, pages: number, keeping: Keeping, cachedShare = 0): void {
  const demand: Demand = { ...BUYING, pages, cachedShare };
  const chance = chanceFrom(SEED);
  show(what, runDatabase(demand, WORK, keeping, { seconds: SALE_S, longestS: LONGEST_S, chance }));
}

function show(what: string, { pages, buying, use }: { pages: Tally; buying: Tally; use: number }) {
  const waits = [pages.quantile(0.5), pages.quantile(0.99), buying.quantile(0.99)].map(ms);
  const shed = (pages.shed + buying.shed) / (pages.asked + buying.asked);
  line(what, ...waits, percent(shed), percent(Math.min(1, use)));
}

/** A hundred shops in one database, as would be were it not one each: what a sale of one does to the others. */
function shared(pages: number): void {
  const chance = chanceFrom(SEED);
  const others = zipfShares(SHOPS)
    .slice(SALE_RANK - 50, SALE_RANK + 50)
    .reduce((sum, share) => sum + share * PAGES, 0);
  const demand: Demand = { ...BUYING, pages: pages + others, cachedShare: 0 };
  const time = { seconds: SALE_S, longestS: LONGEST_S, chance };
  const run = runDatabase(demand, WORK, NOTHING_KEPT, time);
  show("the same, had 100 shops one database (all of them)", run);
}

line("", "p50 pages", "p99 pages", "p99 buying", "turned away", "use");
ordinary();
for (const pages of [500, 1_000, 3_000]) {
  sale(`sale, ${pages} pages/s, nothing kept`, pages, NOTHING_KEPT);
  sale(`sale, ${pages} pages/s, ${ISOLATES} isolates ask once a second`, pages, {
    ...{ isolates: ISOLATES, by: "second" },
  });
  sale(`sale, ${pages} pages/s, one of each isolate asks`, pages, {
    isolates: ISOLATES,
    by: "one",
  });
  sale(`sale, ${pages} pages/s, 99 % before the Worker`, pages, NOTHING_KEPT, 0.99);
  const buying = pages * (BUYING.quoteShare * WORK.quoteS + BUYING.orderShare * WORK.orderS);
  const needed = 1 - (0.8 - buying) / (pages * WORK.pageS);
  line(
    `  buying alone uses ${percent(buying)}; for 80 % in all, of the pages must be kept`,
    buying > 0.8 ? "not enough" : percent(Math.max(0, needed)),
  );
}
shared(500);
line(
  `most orders a second for one shop, at 80 % of its database`,
  String(Math.floor(0.8 / (WORK.quoteS * (BUYING.quoteShare / BUYING.orderShare) + WORK.orderS))),
);
