/**
 * Open a blend that was kept: by its code, by a link, or by the page of an earlier order.
 */
import { html, say } from "../dom.ts";
import { openCode, readOrder } from "../exchange.ts";
import { type Arrival, arrivalOf, sayTrouble } from "./arrival.ts";
import type { MoreGround, Panel } from "./ground.ts";
import { readKept } from "./kept-text.ts";

/** @param arrive shows what was opened */
export function openPanel(ground: MoreGround, arrive: (arrival: Arrival) => void): Panel {
  const { words } = ground;
  const id = "kept-code";
  const about = "kept-about";
  const input = html("input", {
    ...{ id, class: "typed", autocomplete: "off", spellcheck: false, autocapitalize: "none" },
    "aria-describedby": about,
  });
  const status = html("p", { id: about, class: "aside", role: "status" });
  const form = html(
    "form",
    { class: "wish open-kept" },
    html("label", { for: id }, words.open.field()),
    input,
    html("button", { type: "submit", class: "buy take" }, words.open.open()),
  );
  let asked = 0;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    void open();
  });

  async function open(): Promise<void> {
    const mine = ++asked;
    say(status, words.open.working());
    const arrival = await arrivalFrom(ground, input.value);
    if (mine !== asked) return;
    arrive(arrival);
    say(status, arrival.sentence);
    if (arrival.choice) input.value = "";
    else input.focus();
  }
  return {
    node: html("div", {}, html("p", { class: "aside" }, words.open.lead()), form, status),
    show: () => undefined,
  };
}

async function arrivalFrom(ground: MoreGround, text: string): Promise<Arrival> {
  const { words, service } = ground;
  const kept = readKept(text);
  switch (kept.kind) {
    case "code":
      return arrivalOfCode(ground, kept.code);
    case "order": {
      const answer = await readOrder(service, kept.order, kept.token);
      if ("trouble" in answer) return { sentence: sayTrouble(ground, answer.trouble) };
      const { blend } = answer.value;
      return blend ? arrivalOfCode(ground, blend) : { sentence: words.link.orderUntold() };
    }
    default:
      return { sentence: words.open[kept.kind]() };
  }
}

/** Open a code and say what came of it. */
async function arrivalOfCode(ground: MoreGround, code: string): Promise<Arrival> {
  const answer = await openCode(ground.service, code);
  return "trouble" in answer
    ? { sentence: sayTrouble(ground, answer.trouble) }
    : arrivalOf(ground, answer.value);
}
