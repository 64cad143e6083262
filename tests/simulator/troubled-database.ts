/**
 * The database with every query that is awaited, and every list, going through the simulated process as one call.
 *
 * A connection of the query builder's own over the same file: what it prepares is troubled, and nothing else of it is
 * touched, because a stand-in for each builder on the way to a query costs more than the query.
 */
import type SQLite from "better-sqlite3";
import * as schema from "#data/schema.ts";
import { drizzle } from "drizzle-orm/better-sqlite3";
import type { Database } from "#service/storage/database.ts";
import type { Process } from "./process.ts";

const diskFault = () => new Error("disk I/O error");

/** A query of the builder, ready to run: at once, whichever of its ways is taken. */
interface Prepared {
  joinsNotNullableMap: unknown;
  readonly executeMethod: Way;
  run(values?: object): unknown;
  all(values?: object): unknown;
  get(values?: object): unknown;
  values(values?: object): unknown;
}
type Way = "run" | "all" | "get" | "values";

interface Session {
  prepareQuery(...asked: unknown[]): Prepared;
}

export function troubledDatabase(db: Database, process: Process): Database {
  const { $client: client } = db.q as unknown as { $client: SQLite.Database };
  const q = drizzle({ client, schema, casing: "snake_case" });
  const { session } = q as unknown as { session: Session };
  const prepare = session.prepareQuery.bind(session);
  session.prepareQuery = (...asked) => new Troubled(prepare(...asked), process);
  const list: Database["atomic"] = (statements) =>
    process.call(() => db.atomic(statements), diskFault);
  return {
    q: q as unknown as Database["q"],
    atomic: list,
    write: (statement) => list([statement]),
  };
}

/** Runs through the process once it is awaited. Inside a list nothing is, and it runs as it is: a list is one call. */
class Troubled implements Prepared {
  readonly #prepared: Prepared;
  readonly #process: Process;

  constructor(prepared: Prepared, process: Process) {
    this.#prepared = prepared;
    this.#process = process;
  }

  get executeMethod() {
    return this.#prepared.executeMethod;
  }
  set joinsNotNullableMap(map: unknown) {
    this.#prepared.joinsNotNullableMap = map;
  }
  get joinsNotNullableMap() {
    return this.#prepared.joinsNotNullableMap;
  }

  readonly run = (values?: object) => this.#call("run", values);
  readonly all = (values?: object) => this.#call("all", values);
  readonly get = (values?: object) => this.#call("get", values);
  readonly values = (values?: object) => this.#call("values", values);

  execute(values?: object) {
    const way = this.executeMethod;
    return {
      sync: () => this.#prepared[way](values),
      then: (done: (answer: unknown) => unknown, failed: (error: unknown) => unknown) =>
        this.#call(way, values).then(done, failed),
    };
  }

  #call(way: Way, values: object | undefined): Promise<unknown> {
    return this.#process.call(() => this.#prepared[way](values), diskFault);
  }
}
