/**
 * What the stores of payments must do, whichever engine stands behind them.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { people } from "#data/schema.ts";
import { Conflict, type Database } from "#service/storage/database.ts";
import { disputesIn } from "#service/storage/disputes.ts";
import { type OrderRow, ordersIn } from "#service/storage/orders.ts";
import { practiceSessionsIn } from "#service/storage/practice-sessions.ts";
import { refundsIn } from "#service/storage/refunds.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { makeCharge } from "../tills/till.contract.ts";
import { AT, SHOP, aQuote, anOrder, fresh } from "./contract-rows.ts";

export function describePayments(
  name: string,
  open: () => Promise<{ readonly db: Database; close(): Promise<unknown> }>,
): void {
  let subject: Awaited<ReturnType<typeof open>>;
  let orders: ReturnType<typeof ordersIn>;
  let refunds: ReturnType<typeof refundsIn>;
  const askedBy = "person-of-payments";

  async function placed(change: Parameters<typeof anOrder>[1] = {}): Promise<OrderRow> {
    const quote = aQuote();
    await orders.insertQuote(quote);
    const row = anOrder(quote.id, change);
    await orders.place(row);
    return (await orders.byId(row.id))!;
  }
  const paid = () => placed({ state: "paid", paidAt: AT, capturedMinor: 1000 });
  const wish = (orderId: string, amountMinor: number) => {
    const id = fresh("refund");
    return { id, orderId, amountMinor, why: "w", askedBy, at: AT, what: "give back", tillKey: id };
  };

  describe(`${name}, as a store of payments`, () => {
    beforeAll(async () => {
      subject = await open();
      orders = ordersIn(subject.db);
      refunds = refundsIn(subject.db, orders);
      await seedDemo(subject.db, AT);
      const person = { id: askedBy, shopId: SHOP, name: "Owner", role: "owner" as const };
      await subject.db.q.insert(people).values({ ...person, createdAt: AT });
    });
    afterAll(() => subject.close());

    it("lets no more be asked back than was taken, however many ask at the same moment", async () => {
      const { id } = await paid();
      const ends = await Promise.allSettled(
        Array.from({ length: 5 }, () => refunds.ask(wish(id, 400))),
      );
      expect(ends.filter(({ status }) => status === "fulfilled")).toHaveLength(2);
      for (const end of ends) {
        if (end.status === "rejected") expect(end.reason).toBeInstanceOf(Conflict);
      }
      expect(await refunds.of(id)).toMatchObject([
        { amountMinor: 400, state: "asked", askedAt: AT, askedBy, tillRefundId: null },
        { amountMinor: 400, state: "asked" },
      ]);
      await refunds.ask(wish(id, 200));
      await expect(refunds.ask(wish(id, 1))).rejects.toBeInstanceOf(Conflict);
    });

    it("counts a refund once, be it known here or in the till's sum first", async () => {
      const order = await paid();
      const first = wish(order.id, 600);
      await refunds.ask(first);
      const row = (await refunds.byId(first.id))!;
      const done = {
        row: { ...row, state: "done" as const, tillRefundId: first.id },
        before: "asked" as const,
      };
      await subject.db.atomic(refunds.newsStatements([done], AT));
      await expect(refunds.ask(wish(order.id, 401))).rejects.toBeInstanceOf(Conflict);
      await subject.db.atomic(orders.refundStatements(order, 600, AT, "given back"));
      await refunds.ask(wish(order.id, 400));
      await expect(subject.db.atomic(refunds.newsStatements([done], AT))).rejects.toBeInstanceOf(
        Conflict,
      );
    });

    it("asks back nothing of an order that nobody paid", async () => {
      const { id } = await placed();
      await expect(refunds.ask(wish(id, 1))).rejects.toBeInstanceOf(Conflict);
    });

    it("cancels and asks back together or not at all", async () => {
      const { id } = await paid();
      const move = {
        orderId: id,
        to: "cancelled",
        at: AT,
        who: "maker",
        what: "cancelled",
      } as const;
      await expect(refunds.askAndMove(wish(id, 1001), move)).rejects.toBeInstanceOf(Conflict);
      expect((await orders.byId(id))?.state).toBe("paid");
      await refunds.askAndMove(wish(id, 1000), move);
      expect((await orders.byId(id))?.state).toBe("cancelled");
      await expect(refunds.askAndMove(wish(id, 1), move)).rejects.toBeInstanceOf(Conflict);
      expect(await refunds.of(id)).toHaveLength(1);
    });

    it("keeps a dispute in its newest state, once", async () => {
      const store = disputesIn(subject.db, orders);
      const order = await paid();
      const row = {
        ...{ id: fresh("du"), orderId: order.id, amountMinor: 1000, currency: "GBP" },
        ...{ state: "needs_response", reason: "fraudulent", openedAt: AT, changedAt: AT },
      };
      await store.note(order, [row], AT, "payment contested");
      await expect(store.note(order, [row], AT, "again")).rejects.toBeInstanceOf(Conflict);
      const now = (await orders.byId(order.id))!;
      await store.note(now, [{ ...row, state: "won" }], AT + 1, "payment contested");
      expect((await orders.byId(order.id))?.disputeState).toBe("won");
      expect(await store.of(order.id)).toMatchObject([{ state: "won", openedAt: AT }]);
    });

    it("changes a till key once, and not beside a session", async () => {
      const { id, tillKey } = await placed();
      expect(await orders.setTillKey(id, tillKey, `${id}-2`)).toBe(true);
      expect(await orders.setTillKey(id, tillKey, `${id}-3`)).toBe(false);
      await orders.setTillSession(id, fresh("cs"), null);
      expect(await orders.setTillKey(id, `${id}-2`, `${id}-3`)).toBe(false);
    });

    it("comes to every order at the till in turns, and to no host shop's", async () => {
      await placed({ tillKind: "host", placedAt: AT - 5000, tillSessionId: fresh("cs") });
      const those: string[] = [];
      for (let n = 0; n < 5; n++) {
        those.push((await placed({ placedAt: AT - 9000 + n, tillSessionId: fresh("cs") })).id);
      }
      const seen = new Set<string>();
      for (let turn = 0; turn < 3; turn++) {
        const page = await orders.withSession(AT - 4000, 2, turn);
        expect(page.length).toBeLessThanOrEqual(2);
        page.forEach(({ id }) => seen.add(id));
      }
      expect([...seen].sort()).toEqual(those.sort());
      const bare = await placed({ placedAt: AT - 9500 });
      expect((await orders.withoutSession(AT - 9400, 5)).map(({ id }) => id)).toEqual([bare.id]);
    });

    it("adds a practice refund behind those that were read, and not behind others", async () => {
      const store = practiceSessionsIn(subject.db);
      const { idempotencyKey: _key, ...charge } = makeCharge();
      const id = fresh("practice");
      await store.insert({ ...charge, id, state: "paid" });
      const refund = { key: "k1", ownId: "r1", minor: 5 };
      expect(await store.addRefund(id, [], refund)).toBe(true);
      expect(await store.addRefund(id, [], refund)).toBe(false);
      expect((await store.find(id))?.refunds).toEqual([refund]);
    });
  });
}
