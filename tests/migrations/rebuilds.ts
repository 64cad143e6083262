/**
 * Two ways to make a table anew that another points at, and the tables they are tried on.
 */

/** As the file of a migration has it between two statements. */
export const BREAK = "\n--> statement-breakpoint\n";

/** As the migration generator writes it. @param made columns and rules of the new table */
export const asGenerated = (table: string, made: string): string[] => [
  "PRAGMA foreign_keys=OFF;",
  `CREATE TABLE \`__new_${table}\` ${made} STRICT;`,
  `INSERT INTO \`__new_${table}\` SELECT * FROM \`${table}\`;`,
  `DROP TABLE \`${table}\`;`,
  `ALTER TABLE \`__new_${table}\` RENAME TO \`${table}\`;`,
  "PRAGMA foreign_keys=ON;",
];

export const CRATES = "(id text primary key not null, note text not null default 'none')";
const JARS = "(id text primary key not null, crate_id text not null references crates(id))";

/** Written by hand: the rows that point at the table wait elsewhere until it stands again. */
export const CRATES_BY_HAND: readonly string[] = [
  "CREATE TABLE `kept_jars` AS SELECT * FROM `jars`;",
  "DROP TABLE `jars`;",
  `CREATE TABLE \`new_crates\` ${CRATES} STRICT;`,
  "INSERT INTO `new_crates` SELECT * FROM `crates`;",
  "DROP TABLE `crates`;",
  "ALTER TABLE `new_crates` RENAME TO `crates`;",
  `CREATE TABLE \`jars\` ${JARS} STRICT;`,
  "INSERT INTO `jars` SELECT * FROM `kept_jars`;",
  "DROP TABLE `kept_jars`;",
];

/** Two crates with three jars in them. @param onDelete what becomes of the jars of a crate that is deleted */
export const cratesAndJars = (onDelete: string): string[] => [
  "create table crates (id text primary key not null, note text not null) strict",
  `create table jars (id text primary key not null,
    crate_id text not null references crates(id) ${onDelete}) strict`,
  "insert into crates values ('c1', ''), ('c2', '')",
  "insert into jars values ('j1', 'c1'), ('j2', 'c1'), ('j3', 'c2')",
];
