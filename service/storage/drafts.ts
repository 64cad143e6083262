/**
 * Products being written. A save says which revision it was made from: when somebody saved meanwhile it is refused and
 * nothing is overwritten.
 */
import { productDrafts, productVersions, products } from "#data/schema.ts";
import { and, desc, eq } from "drizzle-orm";
import { type ProductDraft, ProductDraftShape } from "../products/draft-shape.ts";
import { type Database, type Statement, mustHaveChanged } from "./database.ts";

export interface StoredDraft {
  readonly document: ProductDraft;
  /** Rises with every save; 0 while nobody has written since the product was published. */
  readonly revision: number;
  readonly savedAt: number;
  readonly personId: string | null;
}

export interface NewDraft {
  readonly shopId: string;
  readonly document: ProductDraft;
  readonly personId: string | null;
  /** [s since 1970] */
  readonly at: number;
}

export type Drafts = ReturnType<typeof draftsIn>;

export function draftsIn(db: Database) {
  const { q } = db;

  /** Fails the list unless the product is this shop's; the list and search go by the draft's name. */
  const nameStatements = (shopId: string, productId: string, name: string): Statement[] => [
    q
      .update(products)
      .set({ name })
      .where(and(eq(products.id, productId), eq(products.shopId, shopId))),
    ...mustHaveChanged(q),
  ];

  const insertDraft = (row: Omit<typeof productDrafts.$inferInsert, "revision">) =>
    q.insert(productDrafts).values({ ...row, revision: 1 });

  return {
    /**
     * The draft of a product; of one that nobody has written on since it was published, its latest version with
     * revision 0.
     * @returns nothing when the shop has no such product
     */
    read: async (shopId: string, productId: string): Promise<StoredDraft | undefined> => {
      const own = and(eq(products.id, productId), eq(products.shopId, shopId));
      const [row] = await q
        .select({ draft: productDrafts })
        .from(products)
        .leftJoin(productDrafts, eq(productDrafts.productId, products.id))
        .where(own);
      if (!row) return undefined;
      if (row.draft) {
        const { document, revision, savedAt, personId } = row.draft;
        return {
          document: ProductDraftShape.parse(JSON.parse(document)),
          revision,
          savedAt,
          personId,
        };
      }
      const [latest] = await q
        .select()
        .from(productVersions)
        .where(eq(productVersions.productId, productId))
        .orderBy(desc(productVersions.version))
        .limit(1);
      if (!latest) return undefined;
      const document = ProductDraftShape.parse({
        product: JSON.parse(latest.product),
        pricePolicy: JSON.parse(latest.pricePolicy),
      });
      const { publishedAt: savedAt, publishedBy: personId } = latest;
      return { document, revision: 0, savedAt, personId };
    },

    /** A new product with its draft, revision 1; Conflict when the id is taken. */
    create: async ({ shopId, document, personId, at }: NewDraft): Promise<void> => {
      const { id, name } = document.product;
      await db.atomic([
        q.insert(products).values({ id, shopId, name }),
        insertDraft({ productId: id, document: JSON.stringify(document), savedAt: at, personId }),
      ]);
    },

    /**
     * Save a draft.
     * @param since revision it was made from
     * @throws Conflict when the stored revision is another, or the product is not this shop's
     */
    save: async (
      shopId: string,
      productId: string,
      document: ProductDraft,
      since: number,
      who: string | null,
      at: number,
    ): Promise<void> => {
      const row = { document: JSON.stringify(document), savedAt: at, personId: who };
      const written: Statement[] =
        since === 0
          ? [insertDraft({ productId, ...row })]
          : [
              q
                .update(productDrafts)
                .set({ ...row, revision: since + 1 })
                .where(
                  and(eq(productDrafts.productId, productId), eq(productDrafts.revision, since)),
                ),
              ...mustHaveChanged(q),
            ];
      await db.atomic([...nameStatements(shopId, productId, document.product.name), ...written]);
    },
  };
}
