/**
 * Share: a link to the blend on the page, by the device's own share sheet where there is one, else by the clipboard,
 * else from a field. The field with the link stands there in any case.
 */
import { hide, button, html, say } from "../dom.ts";
import { requestCode } from "../exchange.ts";
import type { Scene } from "../scene.ts";
import { sayTrouble } from "./arrival.ts";
import type { MoreGround, Panel } from "./ground.ts";
import { addressWith } from "./kept-text.ts";

export function sharePanel(ground: MoreGround): Panel {
  const { service, offer, words } = ground;
  const { share } = words;
  const status = html("p", { class: "aside", role: "status" });
  const address = copyField("share-address", share.address());
  const code = copyField("share-code", share.code());
  const made = html("div", { class: "made" }, address.node, code.node);
  hide(made, true);
  let scene: Scene | undefined;
  let sharedFor: string | undefined;
  let isWorking = false;

  const make = async ({ state: { choice, jar } }: Scene) => {
    const answer = await requestCode(service, { product: offer.product.id, choice, jar });
    if ("trouble" in answer) return say(status, sayTrouble(ground, answer.trouble));
    const link = addressWith(answer.value.code);
    address.input.value = link;
    code.input.value = answer.value.code;
    hide(made, false);
    sharedFor = keyOf({ choice, jar });
    say(status, share[await handOn(link, share.title({ product: offer.product.name }))]());
  };
  const press = async () => {
    if (!scene || isWorking) return;
    if (!scene.blend) return say(status, share.unshareable());
    isWorking = true;
    say(status, share.working());
    await make(scene);
    isWorking = false;
  };
  return {
    node: html(
      "div",
      {},
      html("p", { class: "aside" }, share.lead()),
      button({ class: "buy take" }, () => void press(), share.make()),
      status,
      made,
    ),
    show(now) {
      scene = now;
      if (sharedFor === undefined || sharedFor === keyOf(now.state)) return;
      sharedFor = undefined;
      say(status, share.changed());
    },
  };
}

function keyOf({ choice, jar }: Pick<Scene["state"], "choice" | "jar">): string {
  return JSON.stringify([choice, jar]);
}

/** What became of the link: whoever closes the share sheet still has it in the field. */
async function handOn(url: string, title: string): Promise<"shared" | "copied" | "byHand"> {
  try {
    if (typeof navigator.share === "function") {
      await navigator.share({ url, title });
      return "shared";
    }
    await navigator.clipboard.writeText(url);
    return "copied";
  } catch {
    return "byHand";
  }
}

function copyField(id: string, label: string) {
  const input = html("input", { id, class: "typed", readonly: true });
  input.addEventListener("focus", () => input.select());
  return { input, node: html("div", { class: "wish" }, html("label", { for: id }, label), input) };
}
