/**
 * What the outbox must do, whichever engine stands behind it.
 */
import { asc, eq } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { messages as messagesTable, musts, orders as ordersTable } from "#data/schema.ts";
import { batchesIn } from "#service/storage/batches.ts";
import { Conflict, mustHaveChanged } from "#service/storage/database.ts";
import { type EventEndpoints, eventEndpointsIn } from "#service/storage/event-endpoints.ts";
import { type Messages, messagesIn } from "#service/storage/messages.ts";
import { type Orders, ordersIn } from "#service/storage/orders.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { AT, SHOP, aBatch, aQuote, anOrder } from "./contract-rows.ts";
import type { StorageUnderTest } from "./contract.ts";

const LEASE_S = 100;

export function describeMessages(name: string, open: () => Promise<StorageUnderTest>): void {
  let subject: StorageUnderTest;
  let orders: Orders;
  let messages: Messages;
  let endpoints: EventEndpoints;

  async function placed(change: Partial<typeof ordersTable.$inferInsert> = {}): Promise<string> {
    const quote = aQuote();
    await orders.insertQuote(quote);
    const row = anOrder(quote.id, { customerEmail: "a@customer.example", ...change });
    await orders.place(row);
    return row.id;
  }

  const rowsOf = async (orderId: string) =>
    await subject.db.q
      .select()
      .from(messagesTable)
      .where(eq(messagesTable.orderId, orderId))
      .orderBy(asc(messagesTable.once));
  const purposesOf = async (orderId: string) =>
    (await rowsOf(orderId)).map(({ purpose, kind }) => `${purpose} ${kind}`);

  describe(`${name}, as an outbox`, () => {
    beforeAll(async () => {
      subject = await open();
      messages = messagesIn(subject.db);
      orders = ordersIn(subject.db, messages);
      endpoints = eventEndpointsIn(subject.db);
      await seedDemo(subject.db, AT);
      const row = {
        id: "host-1",
        shopId: SHOP,
        url: "https://a.example/",
        secret: "s",
        createdAt: AT,
      };
      await endpoints.add(row);
    });
    afterAll(() => subject.close());

    it("writes what is told with the change, every row of a list with an id of its own", async () => {
      const id = await placed();
      const move = { orderId: id, to: "paid", at: AT + 1, who: "till", what: "paid" } as const;
      await orders.move(move);
      const rows = await rowsOf(id);
      expect(rows.map(({ purpose, kind }) => `${purpose} ${kind}`).sort()).toEqual([
        ...["order.paid event", "order.paid mail", "order.paid mail", "order.placed event"],
      ]);
      for (const row of rows) {
        const told = `msg_order.paid_${row.toWhom}_${id}`;
        if (row.kind === "mail") expect(row.id).toBe(told);
        else expect(row.id).toMatch(/^msg_[\da-f]{32}$/);
      }
      expect(new Set(rows.map((row) => row.id)).size).toBe(rows.length);
      const body = rows.find(({ body, purpose }) => body && purpose === "order.paid")!.body!;
      expect(JSON.parse(body)).toMatchObject({ data: { id, state: "paid", totalMinor: 2900 } });
    });

    it("writes nothing when the list it stands in is undone", async () => {
      const id = await placed();
      const before = await purposesOf(id);
      const move = { orderId: id, to: "paid", at: AT + 1, who: "till", what: "paid" } as const;
      const undone = [
        ...orders.moveStatements(move),
        subject.db.q.delete(musts).where(eq(musts.ok, 7)),
        ...mustHaveChanged(subject.db.q),
      ];
      await expect(subject.db.atomic(undone)).rejects.toThrow(Conflict);
      expect(await purposesOf(id)).toEqual(before);
      expect((await orders.byId(id))!.state).toBe("placed");
    });

    it("tells of every order of a batch that is closed, and of those that come back", async () => {
      const ids = [await placed({ state: "paid" }), await placed({ state: "paid" })];
      const batch = aBatch();
      const batches = batchesIn(subject.db, orders);
      await batches.issue(
        batch,
        ids.map((orderId) => ({
          ...({ orderId, to: "in-making", at: AT + 2, who: "maker", what: "in making" } as const),
          with: { batchId: batch.id },
        })),
      );
      await batches.close(
        {
          ...{ batchId: batch.id, closing: "{}", at: AT + 3, personId: null },
          ...{ madeIds: [ids[0]!], backIds: [ids[1]!], saysMade: "made", saysBack: "short" },
        },
        [],
      );
      expect(await purposesOf(ids[0]!)).toContain("order.made event");
      expect(await purposesOf(ids[1]!)).toContain("order.paid event");
    });

    it("hands what is due to one sender at a time, the one that waits longest first", async () => {
      await subject.db.q.delete(messagesTable);
      const first = await placed({ placedAt: AT });
      const second = await placed({ placedAt: AT + 1 });
      const until = AT + LEASE_S;
      expect(await messages.take(["mail"], AT + 1, until, 9)).toEqual([]);
      const [one] = await messages.take(["event"], AT + 1, until, 1);
      expect(one).toMatchObject({ orderId: first, attempts: 1, takenUntil: until });
      const rest = await messages.take(["event"], AT + 1, until, 9);
      expect(rest.map(({ orderId }) => orderId)).toEqual([second]);
      expect(await messages.take(["event"], until - 1, until + 9, 9)).toEqual([]);
      const again = await messages.take(["event"], until, until + LEASE_S, 9);
      expect(again.map(({ attempts }) => attempts)).toEqual([2, 2]);
      // The sender whose time was over comes back with a fault, when another is at it: nothing changes.
      const change = { state: "failed", nextAt: 0, lastFault: "late" } as const;
      await subject.db.atomic([messages.faultStatement(one!, change)]);
      expect((await messages.byId(SHOP, one!.id))!.state).toBe("waiting");
      // With a success it is sent, whoever is at it.
      await subject.db.atomic([messages.sentStatement(one!.id, AT + 5)]);
      await subject.db.atomic([messages.faultStatement(again[0]!, change)]);
      expect(await messages.byId(SHOP, one!.id)).toMatchObject({ state: "sent", sentAt: AT + 5 });
    });

    it("lets one go out again, or never", async () => {
      const id = await placed();
      const [row] = await rowsOf(id);
      await subject.db.atomic([messages.sentStatement(row!.id, AT)]);
      await messages.drop(SHOP, row!.id);
      expect((await rowsOf(id))[0]!.state).toBe("sent");
      await messages.again(SHOP, row!.id, AT + 9);
      expect((await rowsOf(id))[0]).toMatchObject({
        state: "waiting",
        attempts: 0,
        nextAt: AT + 9,
      });
      await messages.drop(SHOP, row!.id);
      expect((await rowsOf(id))[0]!.state).toBe("dropped");
      expect(await messages.byId("another-shop", row!.id)).toBeUndefined();
    });

    it("counts, lists and names orders", async () => {
      const id = await placed();
      expect(await messages.count(SHOP, "waiting")).toBeGreaterThan(0);
      const listed = await messages.inState(SHOP, "waiting", 1);
      expect(listed).toHaveLength(1);
      const names = await messages.references(SHOP, [id]);
      expect(names.get(id)).toBe((await orders.byId(id))!.reference);
      expect((await messages.references("another-shop", [id])).size).toBe(0);
    });

    it("adds nothing that is there already", async () => {
      const row = { id: "msg_1", shopId: SHOP, kind: "mail", purpose: "endpoint.off" } as const;
      const rest = {
        toWhom: "maker",
        once: "once-1",
        state: "waiting",
        nextAt: AT,
        createdAt: AT,
      } as const;
      await subject.db.atomic([messages.addStatement({ ...row, ...rest })]);
      await subject.db.atomic([messages.addStatement({ ...row, ...rest, id: "msg_2" })]);
      expect(await messages.byId(SHOP, "msg_2")).toBeUndefined();
    });

    it("changes a secret once when two do it at once", async () => {
      const endpoint = (await endpoints.byId(SHOP, "host-1"))!;
      await endpoints.rotate(endpoint, "t", AT + 9);
      await expect(endpoints.rotate(endpoint, "u", AT + 9)).rejects.toThrow(Conflict);
      const after = { secret: "t", olderSecret: "s", olderUntil: AT + 9 };
      expect((await endpoints.byIds(["host-1"]))[0]).toMatchObject(after);
    });

    it("notes since when an address fails, and why it is off", async () => {
      const note = async (statement: Parameters<typeof subject.db.atomic>[0][number]) =>
        await subject.db.atomic([statement]);
      await note(endpoints.failingStatement("host-1", AT));
      await note(endpoints.failingStatement("host-1", AT + 50));
      expect((await endpoints.byId(SHOP, "host-1"))!.failingSince).toBe(AT);
      await note(endpoints.wellStatement("host-1"));
      expect((await endpoints.byId(SHOP, "host-1"))!.failingSince).toBeNull();
      await note(endpoints.offStatement("host-1", "gone"));
      await endpoints.switchOff(SHOP, "host-1");
      expect((await endpoints.byId(SHOP, "host-1"))!.offBecause).toBe("gone");
      expect(await endpoints.fallenCount(SHOP)).toBe(1);
      await endpoints.switchOn(SHOP, "host-1");
      expect(await endpoints.fallenCount(SHOP)).toBe(0);
    });
  });
}
