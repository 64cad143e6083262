/**
 * Queries and statements that are put together once and run with other values each time: with the many columns of an
 * order that takes longer than reading or writing a few rows.
 */
import { fillPlaceholders } from "drizzle-orm";
import type { Statement } from "./database.ts";

/** @param write puts the query together, with placeholders, and prepares it; called when it is first needed */
export function writtenOnce<Written extends object>(write: () => Written): () => Written {
  let written: Written | undefined;
  return () => (written ??= write());
}

type Values = Readonly<Record<string, unknown>>;

/** What drizzle 0.45 makes of a prepared statement; both engines' lists use these, and the storage tests hold them. */
interface Prepared {
  readonly stmt: unknown;
  getQuery(): { readonly sql: string; readonly params: unknown[] };
  execute(values: Values): unknown;
  mapResult(...told: unknown[]): unknown;
}

/**
 * The same for a statement of an atomic list.
 * @param write puts the statement together, with placeholders, and prepares it
 * @returns makes the statement for a list, with the values of this time
 */
export function writtenStatement(write: () => object): (values?: Values) => Statement {
  const written = writtenOnce(write);
  return (values = {}) =>
    new FilledStatement(written() as Prepared, values) as unknown as Statement;
}

/** A prepared statement with its values, in the place of one that is still to be prepared. */
class FilledStatement {
  readonly #prepared: Prepared;
  readonly #values: Values;

  constructor(prepared: Prepared, values: Values) {
    this.#prepared = prepared;
    this.#values = values;
  }

  _prepare(): this {
    return this;
  }

  /** As a list runs it on a machine. */
  execute(): unknown {
    return this.#prepared.execute(this.#values);
  }

  /** As a list hands it to the database at the edge. */
  get stmt(): unknown {
    return this.#prepared.stmt;
  }

  getQuery() {
    const { sql, params } = this.#prepared.getQuery();
    return { sql, params: fillPlaceholders(params, this.#values) };
  }

  mapResult(...told: unknown[]): unknown {
    return this.#prepared.mapResult(...told);
  }

  /** As it is written out. */
  toSQL() {
    return this.getQuery();
  }
}
