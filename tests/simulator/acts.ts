/**
 * What can happen to an order that waits for its payment: at the payment service, by the customer, by the maker, by
 * the shop itself. What cannot be is passed over; what happens at the payment service makes news.
 */
import { placeOrder } from "#service/actions/place-order.ts";
import { askToCancel } from "#service/actions/order-care.ts";
import { cancelOrder } from "#service/actions/cancel-order.ts";
import { reconcile } from "#service/actions/reconcile.ts";
import { leftToRefund, refundOrder } from "#service/actions/refund.ts";
import { settlePayment } from "#service/actions/settle-payment.ts";
import { deliverDue } from "#service/messages/deliver.ts";
import { Refusal } from "#service/problem.ts";
import { Conflict } from "#service/storage/database.ts";
import type { Move } from "#service/storage/orders.ts";
import type { World } from "./world.ts";

/** News the payment service has of something that happened. */
export interface News {
  readonly id: string;
  readonly type: string;
  readonly object: unknown;
}

/** One order in its world. */
export interface Scene {
  readonly world: World;
  readonly orderId: string;
  readonly session: string;
  readonly token: string;
  /** Id of the owner. */
  readonly owner: string;
  readonly news: News[];
  /** How often the maker has asked for money back: each under an id of its own, kept for asking again. */
  refundsAsked: number;
}

/** Who pays, as the payment service is told. */
const CUSTOMER = "customer@shop.example";

type Happening = (scene: Scene) => void;
type Doing = (scene: Scene) => Promise<unknown>;

function tell({ world, news }: Scene, type: string, object: unknown): void {
  const { id } = world.stripe().keepEvent(type, object);
  news.push({ id, type, object });
}

function atTill(scene: Scene) {
  const stripe = scene.world.stripe();
  const record = stripe.sessions.get(scene.session)!;
  const { charge, payment } = record;
  const isSlow = !record.isPaid && payment.status === "processing";
  return { stripe, record, charge, isSlow, left: charge.amount - charge.amount_refunded };
}

/** A payment, at once or slowly; or of an amount that nobody asked for. */
const pay =
  (how: "at once" | "slowly" | "too little"): Happening =>
  (scene) => {
    const { stripe, record, charge } = atTill(scene);
    if (!record.isOpen) return;
    if (how === "slowly") stripe.markUnpaid(scene.session, CUSTOMER);
    else stripe.markPaid(scene.session);
    if (how === "too little") {
      charge.amount -= 100;
      stripe.patch(scene.session, { amount_total: charge.amount });
    }
    tell(scene, "checkout.session.completed", record.toJson(false));
  };

const endSlowly =
  (came: boolean): Happening =>
  (scene) => {
    const { stripe, record, isSlow } = atTill(scene);
    if (!isSlow) return;
    stripe.endSlowPayment(scene.session, came);
    const end = came ? "succeeded" : "failed";
    tell(scene, `checkout.session.async_payment_${end}`, record.toJson(false));
  };

/** Money given back at the payment service itself. */
const giveBackThere =
  (how: "a part" | "the rest"): Happening =>
  (scene) => {
    const { stripe, record, charge, left } = atTill(scene);
    if (!record.isPaid || left < 2) return;
    const minor = how === "the rest" ? left : Math.ceil(left / 3);
    tell(scene, "refund.created", { ...stripe.markRefunded(scene.session, minor) });
    tell(scene, "charge.refunded", { ...charge });
  };

const dispute =
  (status: string): Happening =>
  (scene) => {
    const { stripe, record } = atTill(scene);
    if (!record.isPaid) return;
    tell(scene, "charge.dispute.updated", { ...stripe.markDisputed(scene.session, status) });
  };

/** At the payment service: done in a moment, whatever becomes of the shop. */
export const HAPPENINGS = {
  pays: pay("at once"),
  "pays slowly": pay("slowly"),
  "pays too little": pay("too little"),
  "slow payment comes": endSlowly(true),
  "slow payment fails": endSlowly(false),
  "session expires": (scene) => {
    const { stripe, record } = atTill(scene);
    if (!record.isOpen) return;
    stripe.markExpired(scene.session);
    tell(scene, "checkout.session.expired", record.toJson(false));
  },
  "a part goes back there": giveBackThere("a part"),
  "the rest goes back there": giveBackThere("the rest"),
  "a refund fails": (scene) => {
    const { stripe, record } = atTill(scene);
    const refund = stripe.refunds.find(
      ({ payment_intent: of, status }) => of === record.paymentId && status !== "failed",
    );
    if (refund) tell(scene, "refund.failed", { ...stripe.endRefund(refund.id, "failed") });
  },
  "refunds wait from now on": ({ world }) => world.stripe().refundsBecome("pending"),
  "is contested": dispute("needs_response"),
  "contest is won": dispute("won"),
  "others break down": ({ world }) => world.others.breakDown(2),
  "ten minutes pass": ({ world }) => world.pass(600),
  "three hours pass": (scene) => {
    scene.world.pass(3 * 3600);
    HAPPENINGS["session expires"](scene);
  },
} satisfies Readonly<Record<string, Happening>>;

const order = async ({ world, orderId }: Scene) => (await world.shop.orders.byId(orderId))!;

/** Under an id that was drawn before it was sent, as a form has it: pressed again after a fault, it is the same one. */
async function giveBack(scene: Scene, again: boolean): Promise<void> {
  const { world, owner: askedBy } = scene;
  const { shop } = world;
  const now = await order(scene);
  const minor = Math.floor(leftToRefund(now, await shop.refunds.of(now.id)) / 2);
  if (!again) scene.refundsAsked += 1;
  const id = `refund-of-the-maker-${scene.refundsAsked}`;
  const standing = again ? await shop.refunds.byId(id) : undefined;
  const amount = standing?.amountMinor ?? minor;
  if (amount > 0) await refundOrder(shop, now, { id, minor: amount, why: "a lid", askedBy });
}

const cancel =
  (withMoney: boolean): Doing =>
  async (scene) => {
    const back = withMoney ? { refundedBy: scene.owner } : {};
    await cancelOrder(scene.world.shop, await order(scene), { who: "maker", why: "no", ...back });
  };

const move =
  (to: Move["to"], from: Move["to"], what: string): Doing =>
  async (scene) => {
    const { world, orderId } = scene;
    // The maker's page lets nobody release what was never paid.
    if (to === "paid" && (await order(scene)).paidAt === null) return;
    const at = world.now();
    await world.shop.orders.move({ orderId, to, from: [from], at, who: "maker", what });
  };

/** In the shop: can be cut off at any call. */
export const DOINGS = {
  "customer comes back": ({ world, session }) => settlePayment(world.shop, session),
  "customer orders again": ({ world, token }) => placeOrder(world.shop, world.offers, token),
  "customer asks to cancel": async (scene) => askToCancel(scene.world.shop, await order(scene)),
  "maker gives back": (scene) => giveBack(scene, false),
  "maker gives back again": (scene) => giveBack(scene, true),
  "maker cancels": cancel(false),
  "maker cancels with the money": cancel(true),
  "maker holds": move("held", "paid", "held: wait"),
  "maker releases": move("paid", "held", "released: go on"),
  "maker begins": move("in-making", "paid", "batch 1"),
  "maker has made it": move("made", "in-making", "batch 1 made"),
  "a round": ({ world }) => reconcile(world.shop, 40),
} satisfies Readonly<Record<string, Doing>>;

/** A delivery signs with the platform's own cryptography, whose order is not ours to say: so nothing runs beside it. */
export const deliver: Doing = ({ world }) => deliverDue(world.shop);

/** What a person is told, or has no right to at this moment, is an answer and no fault. */
export function isAnswer(error: unknown): boolean {
  return error instanceof Refusal || error instanceof Conflict;
}
