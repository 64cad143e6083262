/**
 * The storefront's third script: wishes, comparing, sharing, and opening a blend that was kept. It is fetched when a
 * customer opens one of them, or comes by a link with a blend in it, so that nobody else pays for it.
 *
 * It stands by itself, core included, and shares nothing with the first script but the shape of its two functions; its
 * style sheet is added to the composer's own.
 */
import type { BlendOpened } from "#core/wire.ts";
import { type Answer, openCode } from "../exchange.ts";
import type { Scene } from "../scene.ts";
import { type Arrival, arrivalOf, sayTrouble } from "./arrival.ts";
import { comparePanel } from "./compare-panel.ts";
import type { MoreGround, MoreHost, Panel } from "./ground.ts";
import { openPanel } from "./open-panel.ts";
import { sharePanel } from "./share-panel.ts";
import { moreSheet } from "./sheet.ts";
import { wishPanel } from "./wish-panel.ts";
import type { MoreCatalogue } from "./words.ts";

export type Way = "wish" | "compare" | "share" | "open";

export interface More {
  /** The panel behind a way; built when it is first asked for. */
  panel(way: Way): HTMLElement;
  /** Show a scene in the panel that is open. */
  show(way: Way, scene: Scene): void;
  /**
   * Take what a link brought, where it is of this product.
   * @returns what to tell the customer; empty when it is meant for another composer of the page
   */
  arrive(linked: Answer<BlendOpened>): string;
}

/**
 * Open the panels of a composer.
 * @param within a node of the composer, whose root gets one more style sheet
 */
export function openMore(host: MoreHost, catalogue: MoreCatalogue, within: Node): More {
  const ground: MoreGround = { ...host, ...catalogue };
  const { adoptedStyleSheets } = within.getRootNode() as ShadowRoot;
  const sheet = moreSheet();
  if (!adoptedStyleSheets.includes(sheet)) adoptedStyleSheets.push(sheet);
  const panels = new Map<Way, Panel>();
  const make: Record<Way, () => Panel> = {
    wish: () => wishPanel(ground),
    compare: () => comparePanel(ground),
    share: () => sharePanel(ground),
    open: () => openPanel(ground, (arrival) => take(host, arrival)),
  };
  const panelOf = (way: Way) => {
    const panel = panels.get(way) ?? make[way]();
    panels.set(way, panel);
    return panel;
  };
  return {
    panel: (way) => panelOf(way).node,
    show: (way, scene) => panelOf(way).show(scene),
    arrive(linked) {
      if ("trouble" in linked) return sayTrouble(ground, linked.trouble);
      if (linked.value.product.id !== host.offer.product.id) return "";
      const arrival = arrivalOf(ground, linked.value);
      take(host, arrival);
      return arrival.sentence;
    },
  };
}

/** What a code in the page's address holds, asked while the product itself is still on its way. */
export function openLinked(service: string, code: string): Promise<Answer<BlendOpened>> {
  return openCode(service, code);
}

function take({ doAct }: MoreHost, { choice, jar }: Arrival): void {
  if (choice) doAct({ kind: "take-offer", choice });
  if (jar) doAct({ kind: "choose-jar", jar });
}
