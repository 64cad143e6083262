/**
 * Keys of the way back: Ctrl+Z, Ctrl+Shift+Z, Ctrl+Y, and the same with the command key.
 */
export function wayBackOf(event: KeyboardEvent): "undo" | "redo" | undefined {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return undefined;
  const key = event.key.toLowerCase();
  if (key === "y") return "redo";
  if (key === "z") return event.shiftKey ? "redo" : "undo";
  return undefined;
}
