/**
 * Our small simplex method against a library for linear programs (npm javascript-lp-solver), and by its own laws.
 */
import { type LinearProgram, solveLinear } from "#core/order/linear-program.ts";
import fc from "fast-check";
import solver from "javascript-lp-solver";
import { describe, expect, it } from "vitest";

const figure = fc.integer({ min: -9, max: 9 });
const programs: fc.Arbitrary<LinearProgram> = fc
  .tuple(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 0, max: 5 }))
  .chain(([values, rows]) =>
    fc.record({
      costs: fc.array(figure, { minLength: values, maxLength: values }),
      greatest: fc.array(fc.option(fc.integer({ min: 0, max: 20 }), { nil: Infinity, freq: 4 }), {
        minLength: values,
        maxLength: values,
      }),
      rows: fc.array(
        fc.record({
          of: fc.array(figure, { minLength: values, maxLength: values }),
          is: fc.constantFrom("at-least", "at-most", "equal"),
          limit: fc.integer({ min: -30, max: 30 }),
        }),
        { minLength: rows, maxLength: rows },
      ),
    }),
  );

interface TheirAnswer {
  readonly feasible: boolean;
  readonly bounded?: boolean;
  readonly [value: string]: number | boolean | undefined;
}

function byLibrary({ costs, greatest, rows }: LinearProgram): TheirAnswer {
  const constraints: Record<string, { min?: number; max?: number; equal?: number }> = {};
  const words = { "at-least": "min", "at-most": "max", equal: "equal" } as const;
  for (const [at, { is, limit }] of rows.entries())
    constraints[`row${at}`] = { [words[is]]: limit };
  const variables: Record<string, Record<string, number>> = {};
  for (const [at, cost] of costs.entries()) {
    const own = Object.fromEntries(rows.map(({ of }, row) => [`row${row}`, of[at]!]));
    variables[`x${at}`] = { cost, ...own, [`top${at}`]: 1 };
    if (greatest[at] !== Infinity) constraints[`top${at}`] = { max: greatest[at]! };
  }
  const model = { optimize: "cost", opType: "min" as const, constraints, variables };
  return solver.Solve(model) as unknown as TheirAnswer;
}

function breaksOf({ greatest, rows }: LinearProgram, values: readonly number[]): number {
  const bounds = values.map((value, at) => Math.max(-value, value - greatest[at]!));
  const limits = rows.map(({ of, is, limit }) => {
    const sum = of.reduce((total, each, at) => total + each * values[at]!, 0);
    return is === "equal" ? Math.abs(sum - limit) : is === "at-most" ? sum - limit : limit - sum;
  });
  return Math.max(0, ...bounds, ...limits);
}

describe("a linear program", () => {
  it("is never dearer than the library's answer, keeps every limit, and finds one where there is one", () => {
    let compared = 0;
    let impossible = 0;
    let same = 0;
    fc.assert(
      fc.property(programs, (program) => {
        const ours = solveLinear(program);
        const theirs = byLibrary(program);
        if (ours.kind === "unbounded" || theirs.bounded === false) {
          expect(ours.kind).not.toBe("least");
          return;
        }
        if (ours.kind === "least") expect(breaksOf(program, ours.values)).toBeLessThan(1e-6);
        // The library sometimes hands out a point that breaks a limit: such an answer checks nothing.
        const point = program.costs.map((_, at) => Number(theirs[`x${at}`] ?? 0));
        if (!theirs.feasible || breaksOf(program, point) > 1e-6) {
          if (ours.kind === "impossible") impossible++;
          return;
        }
        compared++;
        expect(ours.kind).toBe("least");
        if (ours.kind !== "least") return;
        // Its own figure of the cost is now and then not that of its point (x at most 2, x at least 2: told 0).
        const least = program.costs.reduce((sum, cost, at) => sum + cost * point[at]!, 0);
        expect(ours.cost).toBeLessThan(least + 1e-5);
        if (Math.abs(ours.cost - least) < 1e-5) same++;
      }),
      { numRuns: 3000 },
    );
    expect(Math.min(compared, impossible)).toBeGreaterThan(300);
    expect(same).toBeGreaterThan(0.97 * compared);
  });

  it("solves the corner that two limits make", () => {
    const program: LinearProgram = {
      costs: [-3, -5],
      greatest: [4, Infinity],
      rows: [
        { of: [0, 2], is: "at-most", limit: 12 },
        { of: [3, 2], is: "at-most", limit: 18 },
      ],
    };
    expect(solveLinear(program)).toEqual({ kind: "least", values: [2, 6], cost: -36 });
  });

  it("tells a program without end from one without answer", () => {
    expect(solveLinear({ costs: [-1], greatest: [Infinity], rows: [] }).kind).toBe("unbounded");
    const rows = [{ of: [1], is: "at-least", limit: 3 }] as const;
    expect(solveLinear({ costs: [1], greatest: [2], rows }).kind).toBe("impossible");
  });
});
