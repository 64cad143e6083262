/**
 * What the maker must know at the bench: that somebody was not told.
 */
import type { Shop } from "../ports.ts";
import { countWords } from "../words/count-words.ts";

/** Two sentences at most; nothing while all is well. */
export async function untoldWords(shop: Shop, shopId: string): Promise<string> {
  const [failed, fallen] = await Promise.all([
    shop.messages.count(shopId, "failed"),
    shop.eventEndpoints.fallenCount(shopId),
  ]);
  return [
    ...(failed > 0 ? [`${countWords(failed, "message")} could not be delivered.`] : []),
    ...(fallen > 0 ? ["A host shop is no longer told of orders."] : []),
  ].join(" ");
}
