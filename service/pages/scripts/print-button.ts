/** Buttons that print the page; without this script they stay hidden, and the browser's own menu prints. */
for (const button of document.querySelectorAll<HTMLButtonElement>("button[data-print]")) {
  button.hidden = false;
  button.addEventListener("click", () => window.print());
}
