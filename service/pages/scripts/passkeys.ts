/**
 * The two forms for passkeys: adding one, and coming in by one. Both stay hidden where a browser has no passkeys.
 */
import {
  browserSupportsWebAuthn,
  startAuthentication,
  startRegistration,
} from "@simplewebauthn/browser";

const form = document.querySelector<HTMLFormElement>("form[data-passkey]");
if (form && browserSupportsWebAuthn()) {
  form.hidden = false;
  document.querySelector("[data-passkey=off]")?.remove();
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    void run(form, form.dataset["passkey"] === "add" ? add : enter);
  });
}

/** Carry a form out once at a time, and say what is going on. */
async function run(form: HTMLFormElement, work: (form: HTMLFormElement) => Promise<void>) {
  const [button, status] = [form.querySelector("button")!, form.querySelector("[role=status]")!];
  button.disabled = true;
  status.className = "aside";
  status.textContent = "Your device will ask you now …";
  try {
    const { origin } = form.dataset;
    if (origin !== location.origin) {
      throw new Error(`Passkeys work at ${origin} only: open the maker’s side there.`);
    }
    await work(form);
  } catch (error) {
    status.className = "mend";
    status.textContent = wordsOf(error);
    button.disabled = false;
    button.focus();
  }
}

async function add(form: HTMLFormElement): Promise<void> {
  const optionsJSON = await send("/maker/you/passkeys/options", {});
  const response = await startRegistration({ optionsJSON });
  const name = new FormData(form).get("name");
  await send("/maker/you/passkeys", { name, response });
  // Whoever has no recovery code yet is shown one next.
  const makeCode = document.querySelector<HTMLFormElement>("#make-code");
  if (form.dataset["then"] === "recovery" && makeCode) makeCode.requestSubmit();
  else location.reload();
}

async function enter(form: HTMLFormElement): Promise<void> {
  const optionsJSON = await send("/maker/enter/options", {});
  const response = await startAuthentication({ optionsJSON });
  const { to } = await send("/maker/enter/passkey", { to: form.dataset["to"], response });
  location.assign(to);
}

/** Send to our own service; what comes back is as it was made there. */
// eslint-disable-next-line @typescript-eslint/no-explicit-any
async function send(path: string, body: unknown): Promise<any> {
  const answer = await fetch(path, {
    method: "POST",
    headers: { "content-type": "application/json", accept: "application/json" },
    body: JSON.stringify(body),
  });
  const said = await answer.json();
  if (!answer.ok) throw new Error(said.detail);
  return said;
}

function wordsOf(error: unknown): string {
  const name = error instanceof Error ? error.name : "";
  if (name === "NotAllowedError") {
    return "The device did not go on: it was closed, took too long, or holds no passkey for this shop. Try again when you like.";
  }
  if (name === "InvalidStateError")
    return "This device holds a passkey of yours for this shop already.";
  if (error instanceof TypeError)
    return "The shop could not be reached. Nothing was changed; try again.";
  return error instanceof Error
    ? error.message
    : "That did not work. Nothing was changed; try again.";
}
