/**
 * Making nodes, without markup strings and without inline style attributes, so that a strict
 * content policy holds.
 */
export type Attributes = Readonly<Record<string, string | number | boolean | undefined>>;
export type Child = Node | string;

/** One region of the page: built once, then shown again and again. */
export interface View<Shown> {
  readonly node: HTMLElement;
  show(shown: Shown): void;
}

/**
 * An HTML element. `true` sets an empty attribute; `false` and `undefined` set none. Its classes
 * are its parts too, so that a shop can style every named region; the element's own comment lists
 * the parts that are promised.
 */
export function html<Tag extends keyof HTMLElementTagNameMap>(
  tag: Tag,
  attributes: Attributes = {},
  ...children: readonly Child[]
): HTMLElementTagNameMap[Tag] {
  const node = document.createElement(tag);
  dress(node, { part: attributes["class"], ...attributes });
  node.append(...children);
  return node;
}

/** An SVG element. */
export function svg<Tag extends keyof SVGElementTagNameMap>(
  tag: Tag,
  attributes: Attributes = {},
  ...children: readonly Child[]
): SVGElementTagNameMap[Tag] {
  const node = document.createElementNS("http://www.w3.org/2000/svg", tag);
  dress(node, attributes);
  node.append(...children);
  return node;
}

/** Set attributes, leaving alone what is already so. */
export function dress(node: Element, attributes: Attributes): void {
  for (const name in attributes) {
    const value = attributes[name];
    if (value === undefined || value === false) node.removeAttribute(name);
    else {
      const text = value === true ? "" : String(value);
      if (node.getAttribute(name) !== text) node.setAttribute(name, text);
    }
  }
}

/**
 * Replace text, leaving alone what is already so. The text node stays: a new one would have to be styled and laid out
 * from nothing.
 */
export function say(node: Element, text: string): void {
  const { firstChild } = node;
  if (!(firstChild instanceof Text)) node.textContent = text;
  else if (firstChild.data !== text) firstChild.data = text;
}

/**
 * Say words whose figures change at every move, in a node of the class "steady". They stand over the room that the same
 * words take with noughts for figures, which are as wide as any other: so that nothing around them is laid out again.
 */
export function saySteady(node: Element, text: string): void {
  dress(node, { "data-room": text.replace(/[1-9]/g, "0") });
  say(node.firstElementChild ?? node.appendChild(html("span", { class: "over" })), text);
}

/** Show or hide; setting what is already so would have the browser style it again. */
export function hide(node: HTMLElement, isHidden: boolean): void {
  if (node.hidden !== isHidden) node.hidden = isHidden;
}

/** A plain button. `aria-disabled` rather than `disabled`, so that focus is never lost. */
export function button(
  attributes: Attributes,
  press: () => void,
  ...children: readonly Child[]
): HTMLButtonElement {
  const node = html("button", { type: "button", ...attributes }, ...children);
  node.addEventListener("click", () => {
    if (node.getAttribute("aria-disabled") !== "true") press();
  });
  return node;
}

/** Bar a button, or open it again. */
export function bar(node: Element, isBarred: boolean): void {
  dress(node, { "aria-disabled": isBarred ? "true" : undefined });
}
