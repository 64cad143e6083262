import js from "@eslint/js";
import ts from "typescript-eslint";

export default ts.config(
  { ignores: [".build/**", ".data/**", "node_modules/**", "**/*.d.ts", "**/*.d.mts"] },
  js.configs.recommended,
  ...ts.configs.strict,
  {
    rules: {
      // Index access is checked by the compiler; "!" marks where an invariant says that it is there.
      "@typescript-eslint/no-non-null-assertion": "off",
      "@typescript-eslint/no-unused-vars": [
        "error",
        { argsIgnorePattern: "^_", varsIgnorePattern: "^_" },
      ],
    },
  },
  {
    files: ["**/*.mjs"],
    languageOptions: {
      globals: {
        process: "readonly",
        console: "readonly",
        URL: "readonly",
        setTimeout: "readonly",
      },
    },
  },
);
