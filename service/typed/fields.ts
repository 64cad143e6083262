/**
 * The fields of a form, all of them text.
 */
import { textOf } from "./text.ts";

type Fields<Name extends string> = Readonly<Record<Name, string>>;

/** As they were typed; one that the form does not hold is empty. */
export function textFields<Name extends string>(
  form: FormData,
  names: readonly Name[],
): Fields<Name> {
  return Object.fromEntries(names.map((name) => [name, textOf(form, name)])) as Fields<Name>;
}

/** As they stand in a form that nobody has filled in. */
export function blankFields<Name extends string>(names: readonly Name[]): Fields<Name> {
  return Object.fromEntries(names.map((name) => [name, ""])) as Fields<Name>;
}
