import { chanceFrom, evenPoints } from "#core/order/room/sequence.ts";
import { describe, expect, it } from "vitest";

describe("evenly spread points", () => {
  it("are the same for the same seed and others for another", () => {
    const first = (seed: number) => {
      const into = new Float64Array(3);
      evenPoints(3, chanceFrom(seed))(into);
      return [...into];
    };
    expect(first(5)).toEqual(first(5));
    expect(first(5)).not.toEqual(first(6));
  });

  it.each([1, 2, 5])("leave smaller gaps than chance would in %i dimensions", (dimensions) => {
    // Star discrepancy of each coordinate: of order 1/n here, of order 1/sqrt(n) for chance.
    const count = 2000;
    const next = evenPoints(dimensions, chanceFrom(3));
    const into = new Float64Array(dimensions);
    const columns: number[][] = Array.from({ length: dimensions }, () => []);
    for (let i = 0; i < count; i++) {
      next(into);
      for (const [k, value] of into.entries()) columns[k]!.push(value);
    }
    for (const column of columns) {
      column.sort((one, other) => one - other);
      const worst = Math.max(...column.map((value, i) => Math.abs(value - (i + 0.5) / count)));
      expect(worst).toBeLessThan(0.01);
      expect(column[0]).toBeGreaterThanOrEqual(0);
      expect(column.at(-1)).toBeLessThan(1);
    }
  });

  it("find the volume of a ball's corner better than chance", () => {
    const next = evenPoints(3, chanceFrom(11));
    const at = new Float64Array(3);
    let inside = 0;
    for (let i = 0; i < 20_000; i++) {
      next(at);
      if (at[0]! ** 2 + at[1]! ** 2 + at[2]! ** 2 < 1) inside++;
    }
    expect(inside / 20_000).toBeCloseTo(Math.PI / 6, 2);
  });
});
