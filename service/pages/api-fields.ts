/**
 * JSON Schemas as rows to read: a field, its type in words, and whether it may be left out.
 */

type Schema = Readonly<Record<string, unknown>>;

/** A stretch of a type in words; with a name it points to that shape. */
export interface TypeWord {
  readonly text: string;
  readonly shape: string;
}

export interface FieldRow {
  readonly name: string;
  readonly type: readonly TypeWord[];
  readonly optional: boolean;
  readonly words: string;
}

/** Fields of a shape, or of one of several it may take. */
export interface FieldTable {
  /** Which of several; empty when there is one. */
  readonly when: string;
  readonly rows: readonly FieldRow[];
}

const plain = (text: string): TypeWord => ({ text, shape: "" });

/** The tables of a named shape: one, or one for each form it may take. */
export function fieldTables(schema: Schema): FieldTable[] {
  const forms = formsOf(schema);
  if (!forms) return [{ when: "", rows: rowsOf(schema, "") }];
  return forms.map((form) => {
    const name = nameOf(form);
    if (name !== "") return { when: `or a ${name}`, rows: [] };
    return { when: constantsOf(form), rows: rowsOf(form, "") };
  });
}

/** A type in words. */
export function typeWords(schema: Schema): TypeWord[] {
  const name = nameOf(schema);
  if (name !== "") return [{ text: name, shape: name }];
  const forms = formsOf(schema);
  if (forms) {
    return forms.flatMap((form, at) => [
      ...(at === 0 ? [] : [plain(" or ")]),
      ...(constantsOf(form) === ""
        ? typeWords(form)
        : [plain(`an object with ${constantsOf(form)}`)]),
    ]);
  }
  if (schema["const"] !== undefined) return [plain(JSON.stringify(schema["const"]))];
  if (Array.isArray(schema["enum"])) {
    return [plain(schema["enum"].map((each) => JSON.stringify(each)).join(" | "))];
  }
  if (schema["type"] === "array")
    return [plain("list of "), ...typeWords(schema["items"] as Schema)];
  if (typeof schema["additionalProperties"] === "object") {
    return [plain("by name: "), ...typeWords(schema["additionalProperties"] as Schema)];
  }
  const types = [schema["type"] ?? "anything"].flat();
  return [plain(`${types.join(" or ")}${limitsOf(schema)}`)];
}

function rowsOf(schema: Schema, before: string): FieldRow[] {
  const properties = (schema["properties"] ?? {}) as Record<string, Schema>;
  const required = (schema["required"] ?? []) as string[];
  return Object.entries(properties).flatMap(([key, field]) => {
    const name = `${before}${key}`;
    const row = {
      name,
      type: typeWords(field),
      optional: !required.includes(key),
      words: String(field["description"] ?? ""),
    };
    const items = field["type"] === "array" ? (field["items"] as Schema) : undefined;
    const inner = items ?? field;
    return inner["properties"] ? [row, ...rowsOf(inner, `${name}${items ? "[]" : ""}.`)] : [row];
  });
}

function nameOf(schema: Schema): string {
  return /[^/]+$/.exec(String(schema["$ref"] ?? ""))?.[0] ?? "";
}

function formsOf(schema: Schema): readonly Schema[] | undefined {
  return (schema["anyOf"] ?? schema["oneOf"]) as readonly Schema[] | undefined;
}

/** What tells one form from another: `kind "found"`. */
function constantsOf(schema: Schema): string {
  return Object.entries((schema["properties"] ?? {}) as Record<string, Schema>)
    .filter(([, field]) => field["const"] !== undefined)
    .map(([name, field]) => `${name} ${JSON.stringify(field["const"])}`)
    .join(", ");
}

function limitsOf(schema: Schema): string {
  const { minimum: least, maximum: most, maxLength } = schema;
  if (maxLength !== undefined) return `, at most ${String(maxLength)} characters`;
  if (least !== undefined && most !== undefined) return ` from ${String(least)} to ${String(most)}`;
  if (least !== undefined) return `, at least ${String(least)}`;
  return most === undefined ? "" : `, at most ${String(most)}`;
}
