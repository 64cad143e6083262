/**
 * The API's description as a page: what each operation takes and answers, and the shapes by name.
 */
import { type FieldTable, fieldTables, typeWords } from "./api-fields.ts";
import type { Description } from "../plugin/openapi.ts";
import { capital } from "../words/capital.ts";

interface Described {
  readonly operationId: string;
  readonly tags: readonly [string];
  readonly summary: string;
  readonly description?: string;
  readonly security?: readonly object[];
  readonly parameters: readonly {
    readonly name: string;
    readonly in: string;
    readonly required: boolean;
    readonly description?: string;
  }[];
  readonly requestBody?: { readonly content: Content };
  readonly responses: Readonly<Record<string, { readonly description: string; content: Content }>>;
}

type Content = Readonly<Record<string, { readonly schema: Record<string, unknown> }>>;

const KEY_WORDS = { needed: "With a key.", may: "With a key, or without one.", none: "" };

/** @param says name and address of the shop */
export function apiReferencePage(
  { paths, tags, webhooks, components, info }: Description,
  says: { readonly url: string; readonly shop: string },
) {
  const operations = Object.entries(paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, each]) => operation(path, method, each as Described)),
  );
  const { schemas } = components as { schemas: Record<string, Record<string, unknown>> };
  return {
    title: `API of ${says.shop}`,
    ...says,
    about: info.description,
    chapters: tags.map(({ name, description }) => ({
      ...{ name, title: capital(name), description },
      operations: operations.filter(({ chapter }) => chapter === name),
    })),
    events: Object.keys(webhooks),
    shapes: Object.entries(schemas)
      .sort(([one], [other]) => (one < other ? -1 : 1))
      .map(([name, schema]): { name: string; tables: readonly FieldTable[] } => ({
        name,
        tables: fieldTables(schema),
      })),
  };
}

function operation(path: string, method: string, each: Described) {
  const { operationId: id, summary, description = "", responses } = each;
  const answers = Object.entries(responses).map(([status, { description: words, content }]) => ({
    status,
    words,
    shapes: Object.values(content).map(({ schema }) => typeWords(schema))[0] ?? [],
    isProblem: Number(status) >= 400,
  }));
  return {
    ...{ id, path, summary, chapter: each.tags[0] },
    description: description.replaceAll("`", ""),
    method: method.toUpperCase(),
    key: KEY_WORDS[keyOf(each)],
    parameters: each.parameters.map(({ name, in: place, required, description: words = "" }) => ({
      ...{ name, place, words },
      needed: required ? "needed" : "may be left out",
    })),
    body:
      Object.values(each.requestBody?.content ?? {}).map(({ schema }) => typeWords(schema))[0] ??
      [],
    answers: answers.filter(({ isProblem }) => !isProblem),
    problems: answers
      .filter(({ isProblem }) => isProblem)
      .flatMap(({ status, words }) =>
        words.split(/(?<=\.) (?=[a-z-]+\.)/).map((line) => {
          const at = line.indexOf(": ");
          return { status, code: line.slice(0, at), words: line.slice(at + 2) };
        }),
      ),
  };
}

function keyOf({ security }: Described): keyof typeof KEY_WORDS {
  if (!security) return "none";
  return security.some((each) => Object.keys(each).length === 0) ? "may" : "needed";
}
