/**
 * What the stores of people, their ways in and the shop's settings must do, whichever engine stands behind them.
 */
import { eq } from "drizzle-orm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { musts, passkeyChallenges, people as peopleTable, sessions, shops } from "#data/schema.ts";
import { Conflict, type Database } from "#service/storage/database.ts";
import { ordersIn } from "#service/storage/orders.ts";
import { passkeysIn } from "#service/storage/passkeys.ts";
import { type Role, peopleIn } from "#service/storage/people.ts";
import { seedDemo } from "#service/storage/seed.ts";
import { shopSettingsIn } from "#service/storage/shop-settings.ts";
import { shopsIn } from "#service/storage/shops.ts";
import { signInsIn } from "#service/storage/sign-ins.ts";
import { AT, SHOP, aQuote, anOrder, fresh } from "./contract-rows.ts";
import type { StorageUnderTest } from "./contract.ts";

export function describePeople(name: string, open: () => Promise<StorageUnderTest>): void {
  let subject: StorageUnderTest;
  let db: Database;

  /** A shop of its own, so that its owners are counted alone. */
  async function aShop(): Promise<string> {
    const row = (await shopsIn(db).byId(SHOP))!;
    const id = fresh("shop");
    await db.atomic([db.q.insert(shops).values({ ...row, id, revision: 1 })]);
    return id;
  }

  async function aPerson(shopId: string, role: Role = "owner", createdAt = AT) {
    const person = { id: fresh("person"), shopId, name: "Maya", role, createdAt };
    await peopleIn(db).add(person);
    return person.id;
  }

  const aSession = (shopId: string, personId: string) => ({
    ...{ shopId, personId, tokenHash: fresh("session") },
    ...{ createdAt: AT, expiresAt: AT + 60 },
  });

  async function aPasskey(personId: string, counter = 0) {
    const id = fresh("passkey");
    const key = { publicKey: "k", transports: "[]", name: "Tablet", createdAt: AT };
    await passkeysIn(db).add({ id, personId, counter, ...key });
    return id;
  }

  /** A session begun by a link, as the service begins one. */
  async function signedIn(shopId: string, personId: string) {
    const store = signInsIn(db);
    const link = fresh("link");
    await store.issueLink(shopId, personId, link, AT + 60);
    const session = aSession(shopId, personId);
    expect(await store.beginByLink(link, session)).toBe(true);
    return session.tokenHash;
  }

  const outcome = (work: Promise<unknown>) =>
    work.then(
      () => "done",
      (error: unknown) => (error instanceof Conflict ? "conflict" : error),
    );

  describe(`${name}, as storage of people`, () => {
    beforeAll(async () => {
      subject = await open();
      db = subject.db;
      await seedDemo(db, AT);
    });
    afterAll(() => subject.close());

    it("lets a link be used once, also when two hands press at the same moment", async () => {
      const store = signInsIn(db);
      const shopId = await aShop();
      const [older, newer] = [fresh("link"), fresh("link")];
      await store.issueLink(shopId, null, older, AT + 60);
      await store.issueLink(shopId, null, newer, AT + 60);
      expect(await store.link(older, AT)).toBeUndefined();
      expect(await store.link(newer, AT)).toMatchObject({ link: { shopId }, person: null });
      expect(await store.link(newer, AT + 60)).toBeUndefined();
      const newcomers = ["One", "Two"].map((name) => ({
        ...{ id: fresh("person"), shopId, name, role: "owner" as const, createdAt: AT },
      }));
      const ends = await Promise.all(
        newcomers.map((person) => store.beginByLink(newer, aSession(shopId, person.id), person)),
      );
      expect(ends.sort()).toEqual([false, true]);
      expect(await peopleIn(db).ofShop(shopId)).toHaveLength(1);
    });

    it("opens the service's own link to the first owner who is still there", async () => {
      const shopId = await aShop();
      const later = await aPerson(shopId, "owner", AT + 5);
      const first = await aPerson(shopId, "owner", AT);
      await aPerson(shopId, "bench", AT - 5);
      await aPasskey(later);
      const store = signInsIn(db);
      const link = fresh("link");
      await store.issueLink(shopId, null, link, AT + 60);
      expect((await store.link(link, AT))?.person?.id).toBe(first);
      await peopleIn(db).remove(shopId, first, later, AT);
      expect((await store.link(link, AT))?.person?.id).toBe(later);
    });

    it("keeps the links of one person when another's are replaced", async () => {
      const shopId = await aShop();
      const [one, two] = [await aPerson(shopId), await aPerson(shopId, "bench")];
      const store = signInsIn(db);
      const links = [fresh("link"), fresh("link"), fresh("link")] as const;
      await store.issueLink(shopId, one, links[0], AT + 60);
      await store.issueLink(shopId, null, links[1], AT + 60);
      await store.issueLink(shopId, two, links[2], AT + 60);
      const found = await Promise.all(links.map((link) => store.link(link, AT)));
      expect(found.map((each) => each?.person?.id)).toEqual([one, one, two]);
    });

    it("ends the visits of who is removed at once, and lets them back with their passkeys", async () => {
      const shopId = await aShop();
      const [owner, hand] = [await aPerson(shopId), await aPerson(shopId, "bench")];
      const store = signInsIn(db);
      const token = await signedIn(shopId, hand);
      const invitation = fresh("link");
      await store.issueLink(shopId, hand, invitation, AT + 60);
      const passkey = await aPasskey(hand);
      expect((await store.personOf(token, AT))?.id).toBe(hand);
      await peopleIn(db).remove(shopId, hand, owner, AT);
      expect(await store.personOf(token, AT)).toBeUndefined();
      expect(await store.link(invitation, AT)).toBeUndefined();
      expect(await passkeysIn(db).withPerson(passkey)).toBeUndefined();
      expect(await db.q.select().from(sessions).where(eq(sessions.personId, hand))).toEqual([]);
      await peopleIn(db).putBack(shopId, hand);
      expect((await passkeysIn(db).withPerson(passkey))?.person.id).toBe(hand);
      expect(await outcome(peopleIn(db).putBack(shopId, hand))).toBe("conflict");
    });

    it("never leaves a shop without an owner who can come in, whoever acts and at whichever moment", async () => {
      const shopId = await aShop();
      const store = peopleIn(db);
      const [one, two] = [await aPerson(shopId), await aPerson(shopId)];
      // Two was invited and has never been in, so One may not go.
      expect(await outcome(store.remove(shopId, one, one, AT))).toBe("conflict");
      expect(await outcome(store.setRole(shopId, one, "bench", one))).toBe("conflict");
      await store.setRecovery(shopId, two, fresh("code"));
      const ends = await Promise.all([
        outcome(store.remove(shopId, one, two, AT)),
        outcome(store.remove(shopId, two, one, AT)),
      ]);
      expect(ends.sort()).toEqual(["conflict", "done"]);
      const left = (await store.ofShop(shopId)).filter(({ person }) => person.removedAt === null);
      expect(left).toHaveLength(1);
      const last = left[0]!.person.id;
      expect(await outcome(store.remove(shopId, last, last, AT))).toBe("conflict");
      expect(await outcome(store.setRole(shopId, last, "bench", last))).toBe("conflict");
      const elsewhere = await aPerson(await aShop());
      expect(await outcome(store.remove(shopId, elsewhere, last, AT))).toBe("conflict");
      expect(await outcome(store.rename(shopId, elsewhere, "Mine"))).toBe("conflict");
    });

    it("takes a changed role into account at the next page", async () => {
      const shopId = await aShop();
      const [owner, hand] = [await aPerson(shopId), await aPerson(shopId, "bench")];
      const token = await signedIn(shopId, hand);
      await peopleIn(db).setRole(shopId, hand, "owner", owner);
      expect((await signInsIn(db).personOf(token, AT))?.role).toBe("owner");
      await peopleIn(db).setRole(shopId, hand, "bench", owner);
      expect((await signInsIn(db).personOf(token, AT))?.role).toBe("bench");
    });

    it("lets a recovery code in once, which ends their other visits, and signs a person out everywhere", async () => {
      const shopId = await aShop();
      const [owner, other] = [await aPerson(shopId), await aPerson(shopId)];
      for (const person of [owner, owner, other]) await signedIn(shopId, person);
      const code = fresh("code");
      await peopleIn(db).setRecovery(shopId, owner, code);
      expect((await peopleIn(db).byRecoveryHash(code))?.id).toBe(owner);
      const store = signInsIn(db);
      const ends = await Promise.all(
        [1, 2].map(() => store.beginByCode(code, aSession(shopId, owner))),
      );
      expect(ends.sort()).toEqual([false, true]);
      expect(await peopleIn(db).byRecoveryHash(code)).toBeUndefined();
      expect(await store.openSessions(owner, AT)).toBe(1);
      expect(await store.openSessions(other, AT)).toBe(1);
      await signedIn(shopId, owner);
      expect(await store.openSessions(owner, AT)).toBe(2);
      await store.endAllOf(owner);
      expect(await store.openSessions(owner, AT)).toBe(0);
    });

    it("uses a challenge once, for one purpose and one person, within its time", async () => {
      const store = passkeysIn(db);
      const shopId = await aShop();
      const [one, two] = [await aPerson(shopId), await aPerson(shopId)];
      const enrol = { challenge: fresh("c"), purpose: "enrol" as const, personId: one };
      await store.keepChallenge({ ...enrol, expiresAt: AT + 300 }, AT);
      expect(await store.useChallenge({ ...enrol, personId: two }, AT)).toBe(false);
      expect(await store.useChallenge({ ...enrol, personId: null }, AT)).toBe(false);
      expect(await store.useChallenge({ ...enrol, purpose: "enter" }, AT)).toBe(false);
      expect(await store.useChallenge(enrol, AT + 300)).toBe(false);
      const ends = await Promise.all([1, 2].map(() => store.useChallenge(enrol, AT + 299)));
      expect(ends.sort()).toEqual([false, true]);
      const enter = { challenge: fresh("c"), purpose: "enter" as const, personId: null };
      await store.keepChallenge({ ...enter, expiresAt: AT + 600 }, AT + 300);
      expect(await db.q.select().from(passkeyChallenges)).toHaveLength(1);
      expect(await store.useChallenge(enter, AT + 301)).toBe(true);
    });

    it.each([
      ["one that does not count", 0, 0, true],
      ["one that counts on", 4, 5, true],
      ["one that jumps", 4, 90, true],
      ["one that stands still", 4, 4, false],
      ["one that counts backwards", 4, 3, false],
      ["one that has ceased to count", 4, 0, false],
    ])("lets a passkey in: %s", async (_, stored, told, letIn) => {
      const shopId = await aShop();
      const owner = await aPerson(shopId);
      const passkey = await aPasskey(owner, stored);
      const session = aSession(shopId, owner);
      expect(await signInsIn(db).beginByPasskey(passkey, told, session)).toBe(letIn);
      expect(Boolean(await signInsIn(db).personOf(session.tokenHash, AT))).toBe(letIn);
      const [row] = await passkeysIn(db).ofPerson(owner);
      expect(row).toMatchObject({ counter: letIn ? told : stored, lastUsedAt: letIn ? AT : null });
    });

    it("removes a passkey unless it is the last way in, and puts it back", async () => {
      const store = passkeysIn(db);
      const shopId = await aShop();
      const [owner, other] = [await aPerson(shopId), await aPerson(shopId)];
      const [one, two] = [await aPasskey(owner), await aPasskey(owner)];
      await aPasskey(other);
      expect(await outcome(store.remove(other, one, AT))).toBe("conflict");
      const ends = await Promise.all([one, two].map((id) => outcome(store.remove(owner, id, AT))));
      expect(ends.sort()).toEqual(["conflict", "done"]);
      await peopleIn(db).setRecovery(shopId, owner, fresh("code"));
      const left = (await store.ofPerson(owner)).find(({ removedAt }) => removedAt === null)!;
      await store.remove(owner, left.id, AT);
      expect(await store.withPerson(left.id)).toBeUndefined();
      await store.putBack(owner, left.id);
      expect((await store.withPerson(left.id))?.person.id).toBe(owner);
      await store.rename(owner, left.id, "Old phone");
      expect(await outcome(store.rename(other, left.id, "Mine"))).toBe("conflict");
      expect((await store.withPerson(left.id))?.passkey.name).toBe("Old phone");
    });

    it("saves settings over the revision that was read, and keeps the currency under orders", async () => {
      const shopId = await aShop();
      const store = shopSettingsIn(db);
      const row = (await shopsIn(db).byId(shopId))!;
      const { locale, currency, currencyExponent, particulars } = row;
      const settings = { name: "Renamed", locale, currency, currencyExponent, particulars };
      const saves = await Promise.all(
        ["One", "Two"].map((title) => outcome(store.save(shopId, 1, { ...settings, name: title }))),
      );
      expect(saves.sort()).toEqual(["conflict", "done"]);
      const yen = { ...settings, currency: "JPY", currencyExponent: 0 };
      await store.save(shopId, 2, yen);
      const after = (await shopsIn(db).byId(shopId))!;
      expect(after).toMatchObject({ currency: "JPY", revision: 3 });
      expect(after.costsRevision).toBe(row.costsRevision + 2);
      expect(await store.hasOrders(shopId)).toBe(false);
      const quote = aQuote({ shopId });
      await ordersIn(db).insertQuote(quote);
      await ordersIn(db).place(anOrder(quote.id, { shopId }));
      expect(await store.hasOrders(shopId)).toBe(true);
      expect(await outcome(store.save(shopId, 3, settings))).toBe("conflict");
      await store.save(shopId, 3, { ...yen, name: "Still yen" });
      expect((await shopsIn(db).byId(shopId))!.name).toBe("Still yen");
    });

    it("refuses a person of no shop and a second of the same id", async () => {
      const store = peopleIn(db);
      const person = { id: fresh("person"), shopId: "none", name: "x", role: "bench" as const };
      await expect(store.add({ ...person, createdAt: AT })).rejects.not.toBeInstanceOf(Conflict);
      const there = await aPerson(await aShop());
      const twin = { ...person, id: there, shopId: SHOP, createdAt: AT };
      await expect(store.add(twin)).rejects.toBeInstanceOf(Conflict);
      const rows = await db.q.select().from(peopleTable).where(eq(peopleTable.id, person.id));
      expect(rows).toEqual([]);
    });

    it("leaves no guard row behind", async () => {
      expect(await db.q.select().from(musts)).toEqual([]);
    });
  });
}
