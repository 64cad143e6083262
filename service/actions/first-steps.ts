/**
 * The first steps of a shop, from an empty one to its first batch, each derived from what is stored.
 */
import { particularsOf } from "../particulars.ts";
import type { Shop } from "../ports.ts";
import { type FirstThings, SHELF_COUNT_MOST } from "../storage/first-steps.ts";
import type { ShopRow } from "../storage/shops.ts";
import { whyNoPasskeys } from "./passkeys-party.ts";

export interface FirstStep {
  readonly words: string;
  /** How it stands. */
  readonly state: string;
  readonly done: boolean;
  readonly href: string;
}

/** A blend is of at least two fats, common practice, no source */
const FATS_LEAST = 2;

/** The steps in their order; none once all are done or a batch of orders has been made. */
export async function firstSteps(
  { firstSteps: stored, till, url }: Pick<Shop, "firstSteps" | "till" | "url">,
  owner: ShopRow,
  personId: string | null,
): Promise<readonly FirstStep[]> {
  if (await stored.isUnderWay(owner.id)) return [];
  const things = await stored.of(owner.id, personId);
  const steps = [
    settingsStep(owner),
    wayInStep(things, whyNoPasskeys(url) === undefined),
    shelfStep(things),
    ...productSteps(things),
    orderStep(things, till.kind === "practice"),
    batchStep(things),
  ];
  return steps.every(({ done }) => done) ? [] : steps;
}

function settingsStep(owner: ShopRow): FirstStep {
  const { responsible } = particularsOf(owner);
  const looked = owner.revision > 1;
  const open = looked ? "the responsible person for labels is missing" : "not looked at yet";
  return {
    words: "Look through the shop’s settings: scale, time zone, who answers for the labels",
    state: looked && responsible ? "done" : open,
    done: looked && responsible !== undefined,
    href: "/maker/shop",
  };
}

function wayInStep({ hasPasskey, hasCode }: FirstThings, canHavePasskey: boolean): FirstStep {
  const missing = [
    ...(canHavePasskey && !hasPasskey ? ["no passkey"] : []),
    ...(hasCode ? [] : ["no recovery code"]),
  ];
  return {
    words: canHavePasskey
      ? "Make the door yours: a passkey, and a recovery code on paper"
      : "Make the door yours: a recovery code on paper",
    state: missing.length === 0 ? "done" : `${missing.join(", ")} yet`,
    done: missing.length === 0,
    href: "/maker/you",
  };
}

function shelfStep({ priced, unpriced }: FirstThings): FirstStep {
  const done = priced >= FATS_LEAST;
  const many = (n: number) => (n > SHELF_COUNT_MOST ? `more than ${SHELF_COUNT_MOST}` : String(n));
  const without = unpriced > 0 ? `, ${many(unpriced)} without` : "";
  const empty = priced + unpriced === 0;
  return {
    words: "Put what you buy on the shelf, with its prices",
    state: empty ? "nothing yet" : `${many(priced)} with a price${without}`,
    done,
    href: done || !empty ? "/maker/shelf" : "/maker/shelf/start",
  };
}

function productSteps({ product }: FirstThings): FirstStep[] {
  const at = product ? `/maker/products/${encodeURIComponent(product.id)}` : "/maker/products/new";
  const { hasBase = false, priced = false, forSale = false, name = "" } = product ?? {};
  const called = name === "" ? "begun" : `“${name}”`;
  const begun = hasBase ? `${called}, done` : `${called}, without a base`;
  const step = (words: string, sheet: string, done: boolean, waiting: string): FirstStep => ({
    words,
    state: done ? "done" : waiting,
    done,
    href: product ? `${at}/${sheet}` : at,
  });
  const after = product ? "not yet" : "once there is a product";
  return [
    {
      words: "Begin a product: a base that customers start from",
      state: product ? begun : "none yet",
      done: hasBase,
      href: product ? `${at}/bases` : at,
    },
    step("Say how it is priced", "price", priced, after),
    step("Look at the room: what customers can order of it", "room", forSale, after),
    step("Publish it", "publish", forSale, after),
  ];
}

function orderStep({ hasOrder, product }: FirstThings, practice: boolean): FirstStep {
  const shopFront = product?.forSale ? `/shop/${encodeURIComponent(product.id)}` : "/";
  return {
    words: practice
      ? "Order a jar in your own shop and pay at the practice till"
      : "Order a jar in your own shop",
    state: hasOrder ? "done" : product?.forSale ? "not yet" : "once a product is published",
    done: hasOrder,
    href: shopFront,
  };
}

function batchStep({ hasOrder, openBatch }: FirstThings): FirstStep {
  return {
    words: "Make the first batch",
    state: openBatch
      ? `batch ${openBatch} is on the bench`
      : hasOrder
        ? "not yet"
        : "once there is an order",
    done: false,
    href: openBatch ? `/maker/batches/${encodeURIComponent(openBatch)}` : "/maker#to-make",
  };
}
