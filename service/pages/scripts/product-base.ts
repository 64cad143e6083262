/**
 * The sheet of a base, while it is written: the sum at once, and what the blend comes to as soon as the hand rests. The
 * service works both out; without this script they stand there after saving.
 */
import { sumWords } from "../../products/sum-words.ts";

const form = document.querySelector<HTMLFormElement>("#base");
const outcome = document.querySelector<HTMLElement>("#outcome");

/** The hand rests [ms] */
const REST_MS = 350;

if (form && outcome) {
  let waiting = 0;
  let asked: AbortController | undefined;
  form.addEventListener("input", () => {
    sayNow(form, outcome);
    clearTimeout(waiting);
    waiting = window.setTimeout(() => {
      asked?.abort();
      asked = new AbortController();
      void look(form, outcome, asked.signal);
    }, REST_MS);
  });
}

/** The sum is known without asking; the verdict is of what stood there before, so it is shown as old. */
function sayNow(sheet: HTMLFormElement, into: HTMLElement): void {
  const data = new FormData(sheet);
  const typed = [...data.getAll("butterShare"), ...data.getAll("oilShare")];
  const hundredths = typed.map((each) => Math.round(Number(String(each).replace(",", ".")) * 100));
  const additives = Math.round(Number(sheet.dataset["additives"]) * 100);
  const sum = hundredths.filter(Number.isFinite).reduce((total, each) => total + each, additives);
  const line = into.querySelector(".sum strong");
  if (line) line.textContent = sumWords(sum);
  into.classList.add("old");
}

async function look(sheet: HTMLFormElement, into: HTMLElement, signal: AbortSignal): Promise<void> {
  try {
    const answer = await fetch(sheet.dataset["look"]!, {
      method: "POST",
      body: new FormData(sheet),
      signal,
    });
    if (!answer.ok) return; // saving says what is the matter
    into.innerHTML = await answer.text(); // our own page's own words, escaped by its templates
    into.classList.remove("old");
  } catch {
    // Overtaken by the next look, or the network is away: what stands there is marked as old, and saving works it out.
  }
}
