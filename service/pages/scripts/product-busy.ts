/**
 * A form that takes a while says so, and is not sent twice.
 */
for (const form of document.querySelectorAll<HTMLFormElement>("form[data-busy]")) {
  form.addEventListener("submit", () => {
    const said = form.querySelector(".busy");
    if (said) said.textContent = form.dataset["busy"] ?? "";
    for (const button of form.querySelectorAll("button")) button.disabled = true;
  });
}

export {};
