/**
 * Keeps statements of SQLite compiled. The query builder hands the same few hundred texts over again and again, and
 * compiling one takes as long as running it.
 */
import type SQLite from "better-sqlite3";

/** More texts than the service has; lists of varying length make some more, and the oldest of all goes then. */
const KEPT_MOST = 500;

/** Make a connection compile each text once. */
export function keepStatements(sqlite: SQLite.Database): void {
  const compile = sqlite.prepare.bind(sqlite);
  const kept = new Map<string, SQLite.Statement>();
  sqlite.prepare = ((text: string) => {
    const known = kept.get(text);
    // How rows are handed out is a switch of the statement, so it goes back to where a new one has it.
    if (known) return known.reader ? known.raw(false) : known;
    const made = compile(text);
    if (kept.size >= KEPT_MOST) kept.delete(kept.keys().next().value!);
    kept.set(text, made);
    return made;
  }) as typeof sqlite.prepare;
}
