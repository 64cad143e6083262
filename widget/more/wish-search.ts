/**
 * Wishes on a scene: what fits, or why nothing does. The search is a script of its own; it goes one step at a time, so
 * that a touch in between is answered. Everything offered is judged and priced as the page judges any other blend.
 */
import { type Finding, sayFinding } from "#core/finding.ts";
import {
  sayGains,
  sayGives,
  sayNoneMet,
  sayWish,
  sayWishConflict,
} from "#core/order/wishes-words.ts";
import { type Wishes, oneByOne } from "#core/order/wishes/wish.ts";
import type { WishOffer, WishesExplained, WishesUnmet } from "#core/order/wishes/wishes.ts";
import { fetchBeside } from "../beside.ts";
import { idle } from "../idle.ts";
import type { Scene } from "../scene.ts";
import { type MoreGround, wishNames } from "./ground.ts";

export interface Offered {
  /** The page as it would be. */
  readonly scene: Scene;
  /** "firmer at home, without sesame" */
  readonly gains: string;
  /** "gives up: a shade dearer, £12.40"; empty when nothing is given up. */
  readonly gives: string;
}

export type Outcome =
  | {
      readonly kind: "found";
      readonly offers: readonly Offered[];
      /** The customer's own blend is among the best, and so is not offered. */
      readonly isKept: boolean;
    }
  | {
      readonly kind: "none";
      /** Why, in sentences. */
      readonly because: readonly string[];
      /** The best with one wish let go, and which. */
      readonly nearest?: Offered & { readonly without: string };
    }
  | { readonly kind: "cannot-judge"; readonly because: readonly string[] }
  /** The script of the search could not be fetched. */
  | { readonly kind: "out-of-reach" };

type Search = typeof import("../wishes.ts");

/** Whether anything is wished at all. */
export function isWish(wishes: Wishes): boolean {
  return oneByOne(wishes).length > 0;
}

/**
 * Look for blends.
 * @param isWanted asked between the searches: the customer may have moved on
 * @returns nothing when it is no longer wanted
 */
export async function searchWishes(
  ground: MoreGround,
  { state, jar }: Scene,
  wishes: Wishes,
  isWanted: () => boolean,
): Promise<Outcome | undefined> {
  const { offer, choice } = state;
  let findWished: Search["findWished"];
  try {
    ({ findWished } = await fetchBeside<Search>("softset.wishes.js"));
  } catch {
    return { kind: "out-of-reach" };
  }
  await idle();
  if (!isWanted()) return undefined;
  const wished = findWished(offer, choice, jar.id, wishes);
  switch (wished.kind) {
    case "cannot-judge":
      return { kind: wished.kind, because: sayAll(ground, wished.findings) };
    case "found": {
      const others = wished.offers.filter(({ moved }) => moved > 0);
      const offers = others.flatMap((each) => offeredFrom(ground, state, each) ?? []);
      const isKept = others.length < wished.offers.length;
      if (offers.length > 0 || isKept) return { kind: "found", offers, isKept };
      return { kind: "none", because: [] };
    }
    case "none": {
      const explained = await explain(wished, isWanted);
      return explained && unmet(ground, state, explained);
    }
  }
}

async function explain(
  { explain: steps }: WishesUnmet,
  isWanted: () => boolean,
): Promise<WishesExplained | undefined> {
  const going = steps();
  for (;;) {
    await idle();
    if (!isWanted()) return undefined;
    const step = going.next();
    if (step.done) return step.value;
  }
}

function unmet(
  ground: MoreGround,
  state: Scene["state"],
  { because, nearest, isOrderable }: WishesExplained,
): Outcome {
  const names = wishNames(ground);
  const said = because.map((each) => sayWishConflict(each, names));
  // With that wish let go the customer's own blend may be the best, which is none to offer.
  const offered = nearest && nearest.moved > 0 ? offeredFrom(ground, state, nearest) : undefined;
  return {
    kind: "none",
    because: said.length > 0 ? said : [sayNoneMet(isOrderable, names)],
    ...(nearest && offered
      ? { nearest: { ...offered, without: sayWish(nearest.without, names) } }
      : {}),
  };
}

/** What this page would not let through, or cannot price, is none to offer. */
function offeredFrom(
  ground: MoreGround,
  state: Scene["state"],
  { choice, gains, gives }: WishOffer,
): Offered | undefined {
  const scene = ground.readScene({ ...state, choice });
  if (scene.verdict !== "orderable") return undefined;
  const names = wishNames(ground);
  return { scene, gains: sayGains(gains, names), gives: sayGives(gives, names) };
}

function sayAll(ground: MoreGround, findings: readonly Finding[]): string[] {
  const { nameOf } = wishNames(ground);
  return findings.map((each) => sayFinding(each, nameOf, ground.language));
}
