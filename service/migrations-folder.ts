/**
 * Where the migrations lie, for what runs on a machine of its own. This file stands as deep as what is built of it, so
 * that one path fits both.
 */
import { fileURLToPath } from "node:url";

export const MIGRATIONS_FOLDER = fileURLToPath(new URL("../data/migrations", import.meta.url));
