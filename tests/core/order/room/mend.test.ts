import type { Product } from "#core/compose/product.ts";
import type { Rules } from "#core/judge/verdict.ts";
import { changeProduct } from "#core/order/room/change.ts";
import { openRoom } from "#core/order/room/room.ts";
import { describe, expect, it } from "vitest";
import { GROUND, bound, verdictOf, withBase } from "./a-space.ts";

function roomOf(product: Product) {
  const work = openRoom(product, GROUND, { draws: 300 });
  while (!work.step(5000));
  return work.result().bases[0]!;
}

const SHEA = (least: number, greatest: number) => [
  { ingredient: "shea-butter", share: least, least, greatest },
];
const OILS = (least: number, greatest: number) => [
  { place: "light", ingredient: "sunflower-oil", share: least, ...bound(least, greatest) },
  { place: "rich", ingredient: "olive-oil", share: least, ...bound(least, greatest) },
];

describe("the smallest change that opens a base", () => {
  const cases: [string, Product, string[]][] = [
    [
      "too little butter for the parcel",
      withBase(
        { butters: SHEA(3000, 4500), oils: OILS(500, 5000) },
        { softensAboveLeastCelsius: 26 },
      ),
      ["bound", "softens-above"],
    ],
    [
      "too much butter for the window",
      withBase({ butters: SHEA(8500, 9500), oils: OILS(200, 4000) }, { firmness: ["soft"] }),
      ["bound", "firmness"],
    ],
    [
      "a ceiling below the butter",
      withBase({ butters: SHEA(6000, 7000), oils: OILS(500, 5000) }, { poreRatingMost: -1 }),
      [],
    ],
    [
      "bounds that cannot make the whole",
      withBase({ butters: SHEA(4000, 5000), oils: OILS(500, 2000) }, {}),
      ["bound"],
    ],
  ];

  it.each(cases)("is tried and is enough: %s", (_, product, kinds) => {
    const base = roomOf(product);
    expect(base.isOpen).toBe(false);
    const found = base.mendings.map(({ change }) => change.kind);
    for (const kind of kinds) expect(found).toContain(kind);
    for (const { change, example } of base.mendings) {
      const changed = changeProduct(product, base.base, change);
      expect(verdictOf(changed, example).verdict).toBe("orderable");
      expect(roomOf(changed).isOpen).toBe(true);
    }
  });

  it("names the least a bound must move: one step less is not enough", () => {
    const product = cases[0]![1];
    const { mendings } = roomOf(product);
    const [{ change }] = mendings as [(typeof mendings)[0]];
    if (change.kind !== "bound") throw new Error("a bound comes first");
    expect(change).toMatchObject({ subject: "shea-butter", end: "greatest", from: 4500 });
    // On a grid of every hundredth of a percent: the first greatest share of shea at which any division passes.
    const passesAt = (greatest: number) => {
      const wide = changeProduct(product, "plain", { ...change, to: greatest });
      return ["sunflower-oil", "jojoba-oil"].some((light) =>
        ["olive-oil", "castor-oil", "sesame-oil"].some((rich) =>
          [500, 2000, 9950 - greatest - 500].some((first) => {
            const oils = [
              { place: "light", ingredient: light, share: first },
              { place: "rich", ingredient: rich, share: 9950 - greatest - first },
            ];
            const butters = [{ ingredient: "shea-butter", share: greatest }];
            return verdictOf(wide, { base: "plain", butters, oils }).verdict === "orderable";
          }),
        ),
      );
    };
    let least = 4501;
    while (!passesAt(least)) least++;
    expect(Math.abs(change.to - least)).toBeLessThanOrEqual(1);
  });

  it("lets all bounds out together when no single change is enough", () => {
    const rules: Rules = {};
    const butters = [
      { ingredient: "shea-butter", share: 3000, ...bound(3000, 3000) },
      { ingredient: "cocoa-butter", share: 500, ...bound(500, 500) },
    ];
    const oils = OILS(100, 300).map((oil) => ({ ...oil, greatest: 300 }));
    const product = withBase({ butters, oils }, { ...rules, firmness: ["soft", "firm"] });
    const base = roomOf(product);
    expect(base.because).toBe("bounds");
    for (const { change, example } of base.mendings) {
      const changed = changeProduct(product, "plain", change);
      expect(verdictOf(changed, example).verdict).toBe("orderable");
    }
    expect(base.mendings.length).toBeGreaterThan(0);
  });

  it("proposes nothing for an ingredient that nobody knows", () => {
    const product = withBase({ butters: [{ ...SHEA(6000, 7000)[0]!, ingredient: "mystery" }] });
    const base = roomOf({ ...product, bases: [{ ...product.bases[0]!, oils: OILS(500, 5000) }] });
    expect(base).toMatchObject({ isOpen: false, because: "cannot-judge", mendings: [] });
  });

  it("is not looked for where something can be ordered", () => {
    expect(roomOf(withBase({})).mendings).toEqual([]);
  });
});
