/**
 * Measuring a room with its progress in sight; without this script the page waits until it is done.
 */
const form = document.querySelector<HTMLFormElement>("#measure");
const line = document.querySelector<HTMLElement>("#measuring");
const bar = document.querySelector<HTMLProgressElement>("#measured");

if (form && line && bar) {
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    form.hidden = true;
    line.hidden = false;
    void measure(form, bar).finally(() => form.submit());
  });
}

interface Told {
  readonly judged?: number;
  readonly planned?: number;
}

/** Whatever happens here, the page is asked for afterwards and measures by itself when it must. */
async function measure(sheet: HTMLFormElement, progress: HTMLProgressElement): Promise<void> {
  const answer = await fetch(sheet.dataset["progress"]!);
  const reader = answer.body!.pipeThrough(new TextDecoderStream()).getReader();
  let rest = "";
  for (let chunk = await reader.read(); !chunk.done; chunk = await reader.read()) {
    const lines = `${rest}${chunk.value}`.split("\n");
    rest = lines.pop() ?? "";
    const told = lines
      .filter(Boolean)
      .map((each) => JSON.parse(each) as Told)
      .at(-1);
    if (told?.planned) progress.value = (told.judged ?? 0) / told.planned;
  }
}

export {};
