import { defineConfig } from "vitest/config";
import { strictWords } from "../../widget/words/compile.mjs";
import { chosenPart } from "./parts.mjs";

// A mutant is met by whoever uses it, so the tests of a part share one module graph, as they do otherwise.
export default defineConfig({
  plugins: [strictWords],
  test: {
    include: [...chosenPart().tests],
    testTimeout: 30_000,
    isolate: false,
    retry: 0,
  },
});
