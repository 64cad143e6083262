import { describe, expect, it } from "vitest";
import { FINDING_CODES, finding, sayFinding, weightOf } from "#core/finding.ts";

const CHAPTERS = ["compose", "judge", "price", "order", "make"];

describe("findings", () => {
  it("carry stable codes of the form chapter.subject.reason", () => {
    for (const code of FINDING_CODES) {
      expect(code).toMatch(/^[a-z]+\.[a-z-]+\.[a-z-]+$/);
      expect(CHAPTERS).toContain(code.split(".")[0]);
    }
    expect(new Set(FINDING_CODES).size).toBe(FINDING_CODES.length);
  });

  it("say one kind sentence with every figure filled in", () => {
    for (const code of FINDING_CODES) {
      const sentence = sayFinding(
        finding(code, "shea-butter", { measured: 12.5, limit: 20, unit: "%" }),
      );
      expect(sentence).not.toMatch(/[{}?]/);
      expect(sentence).toMatch(/^[A-Z0-9s].*\.$/);
      expect(sentence).not.toMatch(/invalid|error|illegal|failed/i);
    }
  });

  it("use the name people know instead of the id", () => {
    const found = finding("compose.share.above-bound", "shea-butter", { measured: 61, limit: 60 });
    expect(sayFinding(found, () => "Shea butter")).toBe(
      "Shea butter is at 61 %; this product allows at most 60 %.",
    );
  });

  it("print a question mark for a figure nobody gave, never a guess", () => {
    expect(sayFinding(finding("compose.share.above-bound", "shea-butter"))).toBe(
      "shea-butter is at ? %; this product allows at most ? %.",
    );
  });

  it("print a name with braces or dollar signs in it as it is", () => {
    const odd = "{measured} $& $'";
    expect(sayFinding(finding("compose.base.unknown", odd))).toBe(
      `There is no base called ${odd} in this product.`,
    );
  });

  it("say who can mend it, and what it does to the verdict", () => {
    expect(finding("compose.share.above-bound", "x").mend).toBe("customer");
    expect(finding("judge.pore-rating.unrated", "x").mend).toBe("maker");
    expect(weightOf(finding("compose.share.above-bound", "x"))).toBe("refuses");
    expect(weightOf(finding("judge.pore-rating.unrated", "x"))).toBe("cannot-judge");
    expect(weightOf(finding("judge.pore-rating.unrated-told", "x"))).toBe("tells");
  });
});
