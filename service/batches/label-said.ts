/**
 * What the products of a batch say for its labels: each run by the version it was ordered from and all since.
 */
import type { LabelFacts } from "#core/compose/product.ts";
import { LabelFactsShape } from "../documents/label-settings.ts";
import type { Shop } from "../ports.ts";
import type { BatchRun } from "./sheets.ts";

const SAYS_NOTHING: LabelFacts = {};

/**
 * @returns for each run what the versions say, the one ordered first, at least one entry; an empty one for a batch
 *   from before products said anything
 */
export async function labelsSaid(
  shop: Pick<Shop, "products" | "drafts">,
  shopId: string,
  runs: readonly Pick<BatchRun, "product">[],
): Promise<LabelFacts[][]> {
  const asked = new Map<string, Promise<LabelFacts[]>>();
  return await Promise.all(
    runs.map(({ product }) => {
      const key = JSON.stringify(product ?? "");
      const said = asked.get(key) ?? saidBy(shop, shopId, product);
      asked.set(key, said);
      return said;
    }),
  );
}

async function saidBy(
  shop: Pick<Shop, "products" | "drafts">,
  shopId: string,
  product: BatchRun["product"],
): Promise<LabelFacts[]> {
  if (!product) return [SAYS_NOTHING];
  const { id, version } = product;
  if (version === undefined) {
    const draft = await shop.drafts.read(shopId, id);
    return [draft?.document.product.label ?? SAYS_NOTHING];
  }
  const since = await shop.products.labelsSince(shopId, id, version);
  return since.map((label) => (label === null ? SAYS_NOTHING : readLabel(label)));
}

function readLabel(json: string): LabelFacts {
  return LabelFactsShape.parse(JSON.parse(json));
}
