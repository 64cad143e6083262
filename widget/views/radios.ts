/**
 * A choice of one by the browser's own radios, each the size of its label.
 */
import { type Child, type View, html } from "../dom.ts";

/**
 * Build a group.
 * @param name of the group, also the class of its fieldset
 * @param label classes of each label
 * @param options value and what stands beside the radio
 * @param choose is told the value chosen; `show` takes the value that is chosen
 */
export function radioGroup(
  name: string,
  legend: string,
  label: string,
  options: readonly { readonly value: string; readonly words: readonly Child[] }[],
  choose: (value: string) => void,
): View<string> {
  const radios = options.map(({ value }) => {
    const radio = html("input", { type: "radio", name, value });
    radio.addEventListener("change", () => choose(value));
    return radio;
  });
  const labels = options.map(({ words }, at) =>
    html("label", { class: label }, radios[at]!, ...words),
  );
  return {
    node: html("fieldset", { class: name }, html("legend", {}, legend), ...labels),
    show(value) {
      for (const radio of radios) radio.checked = radio.value === value;
    },
  };
}
