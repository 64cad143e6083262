/**
 * Who may come in at the maker's door: people with a role, their passkeys, and what a visit leaves behind. Of every
 * secret only a hash is kept.
 */
import { index, integer, sqliteTable, text } from "drizzle-orm/sqlite-core";
import { shops } from "./shop.ts";

export const people = sqliteTable(
  "people",
  {
    id: text().primaryKey(),
    shopId: text()
      .notNull()
      .references(() => shops.id),
    name: text().notNull(),
    /** The bench sees batches and work orders, never money or settings. */
    role: text({ enum: ["owner", "bench"] }).notNull(),
    /** Hash of the printed recovery code; null when there is none or it was used. */
    recoveryHash: text().unique(),
    createdAt: integer().notNull(),
    removedAt: integer(),
  },
  (t) => [index("people_by_shop").on(t.shopId)],
);

export const passkeys = sqliteTable(
  "passkeys",
  {
    /** Credential id, base64url. */
    id: text().primaryKey(),
    personId: text()
      .notNull()
      .references(() => people.id),
    /** COSE key, base64url. */
    publicKey: text().notNull(),
    counter: integer().notNull(),
    /** JSON: ways the browser may reach it. */
    transports: text().notNull(),
    /** What the person calls it. */
    name: text().notNull(),
    createdAt: integer().notNull(),
    lastUsedAt: integer(),
    removedAt: integer(),
  },
  (t) => [index("passkeys_by_person").on(t.personId)],
);

/** A challenge handed to a browser, good once and for minutes. */
export const passkeyChallenges = sqliteTable(
  "passkey_challenges",
  {
    challenge: text().primaryKey(),
    purpose: text({ enum: ["enrol", "enter"] }).notNull(),
    personId: text().references(() => people.id),
    expiresAt: integer().notNull(),
    usedAt: integer(),
  },
  (t) => [index("passkey_challenges_by_end").on(t.expiresAt)],
);

/** One-time links that open the maker's door; only a hash is kept. */
export const signInLinks = sqliteTable("sign_in_links", {
  tokenHash: text().primaryKey(),
  shopId: text()
    .notNull()
    .references(() => shops.id),
  /** Whom it lets in; null: the shop's first owner. */
  personId: text().references(() => people.id),
  expiresAt: integer().notNull(),
  usedAt: integer(),
});

export const sessions = sqliteTable(
  "sessions",
  {
    tokenHash: text().primaryKey(),
    shopId: text()
      .notNull()
      .references(() => shops.id),
    /** Null for a visit begun before there were people. */
    personId: text().references(() => people.id),
    createdAt: integer().notNull(),
    expiresAt: integer().notNull(),
  },
  (t) => [index("sessions_by_person").on(t.personId), index("sessions_by_end").on(t.expiresAt)],
);
