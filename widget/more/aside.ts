/**
 * The blend a customer keeps aside to compare with, for this tab; a reload loses nothing.
 */
import { carryOver } from "#core/compose/carry-over.ts";
import type { Choice } from "#core/compose/product.ts";
import type { MoreHost } from "./ground.ts";

/** Keep a blend aside. A browser that refuses storage forgets it on reload, and that is no fault. */
export function keepAside(host: MoreHost, choice: Choice): void {
  try {
    sessionStorage.setItem(keyOf(host), JSON.stringify(choice));
  } catch {
    // Storage is off or full: the page still has it.
  }
}

/** What was kept aside, if the maker still offers it as it was. */
export function readAside(host: MoreHost): Choice | undefined {
  try {
    const kept = JSON.parse(sessionStorage.getItem(keyOf(host)) ?? "null") as Choice | null;
    const carried = kept && carryOver(host.offer.product, kept);
    return carried && !carried.isChanged ? carried.choice : undefined;
  } catch {
    // Storage is the customer's to edit, so its shape is not trusted.
    return undefined;
  }
}

function keyOf({ service, offer }: MoreHost): string {
  return `softset aside ${service} ${offer.product.id}`;
}
