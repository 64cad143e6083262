/**
 * The firmness law a shop judges by, with every law it judged by before.
 */
import type { FirmnessLaw } from "#core/judge/firmness.ts";
import { kitchenLaws, shops } from "#data/schema.ts";
import { and, eq } from "drizzle-orm";
import { FirmnessLawShape } from "../shapes.ts";
import { type Database, mustHaveChanged } from "./database.ts";

export interface LawInForce {
  /** 0 when the shop has never changed its law. */
  readonly revision: number;
  /** Nothing when the published law is in force. */
  readonly law?: FirmnessLaw;
  /** Test jars it was learned from. */
  readonly jars: number;
  /** [s since 1970] */
  readonly adoptedAt?: number;
}

export function kitchenLawsIn(db: Database) {
  const { q } = db;
  return {
    inForce: async (shopId: string): Promise<LawInForce> => {
      const [row] = await q
        .select({ kept: kitchenLaws })
        .from(shops)
        .innerJoin(
          kitchenLaws,
          and(eq(kitchenLaws.shopId, shops.id), eq(kitchenLaws.revision, shops.lawRevision)),
        )
        .where(eq(shops.id, shopId));
      if (!row) return { revision: 0, jars: 0 };
      const { law, ...rest } = row.kept;
      return law === null ? rest : { ...rest, law: FirmnessLawShape.parse(JSON.parse(law)) };
    },
    /**
     * Judge by another law from now on.
     * @param since revision the maker was looking at; Conflict when it is no longer in force
     * @param law nothing for the published one
     */
    adopt: async (
      shopId: string,
      since: number,
      law: FirmnessLaw | undefined,
      learned: { readonly jars: number; readonly at: number },
    ): Promise<void> => {
      const revision = since + 1;
      await db.atomic([
        q
          .update(shops)
          .set({ lawRevision: revision })
          .where(and(eq(shops.id, shopId), eq(shops.lawRevision, since))),
        ...mustHaveChanged(q),
        q.insert(kitchenLaws).values({
          shopId,
          revision,
          law: law ? JSON.stringify(law) : null,
          jars: learned.jars,
          adoptedAt: learned.at,
        }),
      ]);
    },
  };
}
