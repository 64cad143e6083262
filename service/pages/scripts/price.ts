/**
 * The price sheet answers while it is filled in: the same core that prices an order runs here, on the costs that
 * came with the page. Without this script "Try it" asks the service.
 */
import { readPolicy } from "../../prices/read-policy.ts";
import { type BarPart, type TrialWords, trialWords } from "../../prices/trial-words.ts";
import { type TrialGround, tryPolicy } from "../../prices/what-if.ts";

const form = document.querySelector<HTMLFormElement>(".price-form")!;
const ground = JSON.parse(form.dataset["ground"]!) as TrialGround;
/** Figures follow the hand, but a screen reader is told only once it rests. */
const REST_MS = 250;

let resting: number | undefined;
form.addEventListener("input", () => {
  clearTimeout(resting);
  resting = window.setTimeout(show, REST_MS);
});
for (const button of form.querySelectorAll<HTMLButtonElement>("button.try")) button.hidden = true;

function show(): void {
  const typed = Object.fromEntries(
    [...new FormData(form)].map(([name, value]) => [name, String(value)]),
  );
  const read = readPolicy(typed, ground.jars, ground.currency);
  markFaults("faults" in read ? read.faults.map(({ field }) => field) : []);
  if ("faults" in read) {
    // The last price stays in sight, said to be the last.
    text(".trial-short", read.faults[0]!.sentence);
    return;
  }
  const trial = tryPolicy(ground, read.policy, typed["blend"] ?? "", typed["tryJar"] ?? "");
  const because = "because" in trial ? trial.because : [];
  one(".because").hidden = because.length === 0;
  list(".because", because);
  one(".trial").hidden = "because" in trial;
  if ("because" in trial) text(".trial-short", "No price yet");
  else showTrial(trialWords(trial, ground));
}

function showTrial(words: TrialWords): void {
  text(".trial-short", words.short);
  form.querySelectorAll(".trial-figures dd").forEach((figure, at) => {
    figure.textContent = words.figures[at]!.figure;
  });
  list(".trial-notes", words.notes);
  one(".money-bar").setAttribute("aria-label", `Where the money of one jar goes: ${words.told}`);
  one(".money-bar .parts").replaceChildren(...words.bar.map(barPart));
  one(".money-key").replaceChildren(...words.bar.map(keyPart));
  one(".money-lines tbody").replaceChildren(
    ...words.lines.map(({ number, what, amount, percent }) => {
      const row = copy("line-row");
      [String(number), what, amount, percent].forEach((cell, at) => {
        row.children[at]!.textContent = cell;
      });
      return row;
    }),
  );
  text(".trial-total", words.total);
}

function barPart({ name, number, x, width, middle }: BarPart): Element {
  const part = copy("bar-part").firstElementChild!;
  part.setAttribute("class", `part-${name}`);
  part.setAttribute("x", x);
  part.setAttribute("width", width);
  part.querySelector("text")!.textContent = String(number);
  if (middle === "") for (const each of part.querySelectorAll("circle, text")) each.remove();
  return part;
}

function keyPart({ name, number, words, amount, percent }: BarPart): Element {
  const item = copy("key-part");
  item.querySelector("svg")!.classList.add(`part-${name}`);
  item.querySelector(".key-words")!.textContent = `${number} ${words}`;
  item.querySelector(".key-amount")!.textContent = `${amount}, ${percent}`;
  return item;
}

/** Fields that cannot be read yet; sentences come when the sheet is sent. */
function markFaults(names: readonly string[]): void {
  for (const input of form.querySelectorAll<HTMLInputElement>(".price-field input")) {
    input.setAttribute("aria-invalid", String(names.includes(input.name)));
  }
}

function list(selector: string, sentences: readonly string[]): void {
  one(selector).replaceChildren(
    ...sentences.map((sentence) => {
      const item = document.createElement("li");
      item.textContent = sentence;
      return item;
    }),
  );
}

function copy(id: string): Element {
  const template = document.getElementById(id) as HTMLTemplateElement;
  return template.content.firstElementChild!.cloneNode(true) as Element;
}

function text(selector: string, words: string): void {
  one(selector).textContent = words;
}

function one(selector: string): HTMLElement {
  return form.querySelector<HTMLElement>(selector)!;
}
