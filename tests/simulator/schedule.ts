/**
 * One schedule: steps in which things happen, side by side in an order that is drawn, with news that comes late, twice
 * or never, and calls that fail or end the process. Afterwards all goes well again, and everything must come right.
 */
import type { Scheduler } from "fast-check";
import { deliverDue } from "#service/messages/deliver.ts";
import { receiveEvent } from "#service/actions/receive-event.ts";
import { reconcile } from "#service/actions/reconcile.ts";
import { toTillEvent } from "#service/tills/stripe-event.ts";
import { TillUnavailable } from "#service/tills/till.ts";
import { DOINGS, HAPPENINGS, type News, type Scene, deliver, isAnswer } from "./acts.ts";
import {
  type Facts,
  checkArrived,
  checkMoney,
  checkState,
  checkTold,
  factsOf,
  holds,
  same,
} from "./checks.ts";
import { Died, type Trouble, type Turns } from "./process.ts";

export interface Step {
  /** At the payment service, before the rest of the step. */
  readonly happening: keyof typeof HAPPENINGS | null;
  /** In the shop, side by side. */
  readonly doings: readonly (keyof typeof DOINGS)[];
  /** News that comes in beside them: which of those there are by now, and whether it is lost on the way. */
  readonly post: readonly { readonly at: number; readonly lost: boolean }[];
  readonly trouble: Trouble | null;
  readonly delivers: boolean;
}

export interface Schedule {
  readonly steps: readonly Step[];
  /** Goes on until every message has arrived, and hears all of the news once more. */
  readonly toTheEnd: boolean;
}

/** Longer than the shop leaves alone what somebody may still be at [s] */
const GRACE_S = 300;

/** Play a schedule and check what came of it. */
export async function play(scene: Scene, { steps, toTheEnd }: Schedule, turns: Scheduler) {
  const { world, orderId } = scene;
  for (const step of steps) await playStep(scene, step, turns);
  world.process.start();
  world.others.breakDown(0);
  world.pass(GRACE_S);
  await reconcile(world.calm, 100);
  const facts = factsOf(world, orderId);
  check(scene, facts);
  if (toTheEnd) await goToTheEnd(scene, facts);
}

function check({ world, orderId }: Scene, facts: Facts): void {
  holds("every event was worked through", facts.unsettled.length === 0);
  checkMoney(world, facts, orderId);
  checkState(facts);
  checkTold(facts);
}

async function playStep(scene: Scene, step: Step, turns: Scheduler): Promise<void> {
  const { process } = scene.world;
  if (step.happening) HAPPENINGS[step.happening](scene);
  const heard = step.post.flatMap(({ at, lost }) => {
    const news = lost ? undefined : scene.news[at % Math.max(1, scene.news.length)];
    return news ? [() => hear(scene, news)] : [];
  });
  const works = [...step.doings.map((name) => () => DOINGS[name](scene)), ...heard];
  const isShared = works.length > 1;
  process.start(step.trouble ?? undefined, isShared ? inTurn(turns) : undefined);
  const all = Promise.all(works.map((work) => asItGoes(work)));
  await (isShared ? turns.waitFor(all) : all);
  process.start(step.trouble ?? undefined);
  if (step.delivers) await asItGoes(() => deliver(scene));
}

/** The scheduler writes down what it hands on, so it is handed nothing. */
function inTurn(scheduler: Scheduler): Turns {
  return async (work) => {
    let answer: ReturnType<typeof work>;
    await scheduler.scheduleFunction(async function call() {
      answer = work();
      await answer.catch(() => undefined);
    })();
    return await answer!;
  };
}

/** Whoever waited for an answer gets an error, or none at all; any other error is a fault of ours. */
async function asItGoes(work: () => Promise<unknown>): Promise<void> {
  try {
    await work();
  } catch (error) {
    if (isAnswer(error) || error instanceof Died || error instanceof TillUnavailable) return;
    if (error instanceof Error && error.message === "disk I/O error") return;
    throw error;
  }
}

/** The payment service tries again what was not answered well: it is kept as not delivered. */
async function hear({ world }: Scene, { id, type, object }: News): Promise<void> {
  const event = { id, type, livemode: false, data: { object } };
  await receiveEvent(world.shop, toTillEvent(JSON.stringify(event)));
  world.stripe().deliver(id);
}

/** Everything is delivered, and nothing moves any more, however often all of it is heard again. */
async function goToTheEnd(scene: Scene, before: Facts): Promise<void> {
  const { world, orderId, news } = scene;
  for (const one of news) await hear(scene, one);
  await reconcile(world.calm, 100);
  const after = factsOf(world, orderId);
  check(scene, after);
  same("all of the order, after all of it was heard again", after, before);
  for (let round = 0; round < DELIVERIES_MOST; round++) {
    if (!factsOf(world, orderId).messages.some(({ state }) => state === "waiting")) break;
    await deliverDue(world.calm);
    world.pass(GRACE_S);
  }
  checkArrived(world, factsOf(world, orderId));
}

/** More would mean that something never arrives. */
const DELIVERIES_MOST = 20;
