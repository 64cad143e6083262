import { defineConfig } from "drizzle-kit";

/** `npx drizzle-kit generate --config data/drizzle.config.ts --name <purpose>`, then add STRICT by hand. */
export default defineConfig({
  dialect: "sqlite",
  casing: "snake_case",
  schema: "./data/schema.ts",
  out: "./data/migrations",
});
