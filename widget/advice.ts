/**
 * What is offered instead of a refused blend. The search is a script of its own, fetched when it is first needed and
 * run while nothing else is to be done; what it finds is judged and priced here before it is shown.
 */
import type { NearestFound } from "./nearest.ts";
import { type Scene, readScene } from "./scene.ts";

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

/** Of the script that this is; in the classic script the build writes `document.currentScript.src` here. */
const HERE = import.meta.url;
let misses = 0;
let search: Promise<Search> | undefined;

/** Fetched once for all composers of a page. Some browsers remember a failure, so another try has another address. */
function fetchSearch(): Promise<Search> {
  const again = misses > 0 ? `?again=${misses}` : "";
  search ??= import(new URL(`softset.nearest.js${again}`, HERE).href) as Promise<Search>;
  return search;
}

/**
 * Advice on a refused scene.
 * @param isWanted asked again when the script is there: the customer may have moved on
 */
export async function adviseOn(scene: Scene, isWanted: () => boolean): Promise<Advice | undefined> {
  let findNearest: Search["findNearest"];
  try {
    ({ findNearest } = await fetchSearch());
  } catch {
    search = undefined;
    misses += 1;
    return { kind: "out-of-reach" };
  }
  await idle();
  return isWanted()
    ? offerOf(scene, findNearest(scene.state.offer, scene.state.choice))
    : undefined;
}

/** A nearest blend that has no price, or that this page would not let through, is none to offer. */
function offerOf({ state }: Scene, found: NearestFound | undefined): Advice {
  if (!found) return { kind: "none" };
  const scene = readScene({ ...state, choice: found.choice });
  return scene.verdict === "orderable"
    ? { kind: "found", scene, changes: found.changes }
    : { kind: "none" };
}

const LONGEST_WAIT_MS = 500;

function idle(): Promise<void> {
  return new Promise((done) => {
    if (typeof requestIdleCallback === "function") {
      requestIdleCallback(() => done(), { timeout: LONGEST_WAIT_MS });
    } else setTimeout(done);
  });
}
