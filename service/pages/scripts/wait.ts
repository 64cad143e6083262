/**
 * A form that takes its time says so: its status line is filled and its button rests until the next page comes.
 */
for (const form of document.querySelectorAll<HTMLFormElement>("form[data-wait]")) {
  form.addEventListener("submit", () => {
    const [button, status] = [form.querySelector("button"), form.querySelector("[role=status]")];
    if (status) status.textContent = form.dataset["wait"] ?? "";
    // After the form has gone: a button that rests before would send nothing.
    if (button) setTimeout(() => (button.disabled = true));
  });
  // Coming back by the browser's own button must not find it resting.
  addEventListener("pageshow", () => {
    form.querySelector("button")?.removeAttribute("disabled");
    const status = form.querySelector("[role=status]");
    if (status) status.textContent = "";
  });
}
