/**
 * What is offered instead of a refused blend. The search is a script of its own, fetched when it is first needed and
 * run while nothing else is to be done; what it finds is judged and priced here before it is shown.
 */
import { sayChanges } from "#core/order/nearest-words.ts";
import { fetchBeside } from "./beside.ts";
import { idle } from "./idle.ts";
import type { Language } from "./language.ts";
import type { NearestFound } from "./nearest.ts";
import { type Scene, nameOf, readScene } from "./scene.ts";

export type Advice =
  | {
      readonly kind: "found";
      /** The page as it would be. */
      readonly scene: Scene;
      /** "2% less cocoa butter, 2% more sunflower oil" */
      readonly changes: string;
    }
  | { readonly kind: "none" }
  /** The second script could not be fetched. */
  | { readonly kind: "out-of-reach" };

type Search = typeof import("./nearest.ts");

/**
 * Advice on a refused scene.
 * @param isWanted asked again when the script is there: the customer may have moved on
 */
export async function adviseOn(
  scene: Scene,
  language: Language,
  isWanted: () => boolean,
): Promise<Advice | undefined> {
  let findNearest: Search["findNearest"];
  try {
    ({ findNearest } = await fetchBeside<Search>("softset.nearest.js"));
  } catch {
    return { kind: "out-of-reach" };
  }
  await idle();
  if (!isWanted()) return undefined;
  const found = findNearest(scene.state.offer, scene.state.choice);
  return found ? offerOf(scene, found, language) : { kind: "none" };
}

/** A nearest blend that has no price, or that this page would not let through, is none to offer. */
function offerOf({ state }: Scene, found: NearestFound, language: Language): Advice {
  const scene = readScene({ ...state, choice: found.choice });
  if (scene.verdict !== "orderable") return { kind: "none" };
  const name = (id: string) => nameOf(state.offer, id);
  const changes = sayChanges(found.changes, name, language.percent, language);
  return { kind: "found", scene, changes };
}
