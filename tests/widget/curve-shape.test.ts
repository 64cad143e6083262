import { describe, expect, it } from "vitest";
import { PUBLISHED_LAW } from "#core/judge/firmness.ts";
import { fatLine, gateOf, scaleOf, zonesOf } from "#widget/curve-shape.ts";
import { readScene } from "#widget/scene.ts";
import { openComposer } from "#widget/state.ts";
import { anOffer } from "../helpers/offer.ts";

const frame = { left: 40, right: 390, top: 0, bottom: 140 };
const scale = scaleOf(frame);
const zones = zonesOf(0.35);

describe("the firmness picture", () => {
  it("runs from 5 to 40 °C and from no solid fat upwards", () => {
    expect([scale.x(5), scale.x(40)]).toEqual([40, 390]);
    expect([scale.y(0), scale.y(35), scale.y(70)]).toEqual([140, 70, 0]);
  });

  it("cuts off at the top edge instead of drawing outside", () => {
    expect(scale.y(95)).toBe(0);
  });

  it("stacks the firmness classes without gap or overlap", () => {
    expect(zones.map(({ firmness }) => firmness)).toEqual(["fluid", "soft", "firm", "hard"]);
    for (const [at, zone] of zones.slice(1).entries()) expect(zone.from).toBe(zones[at]!.to);
  });

  it("stands a gate at the use temperature, from the floor of soft to the ceiling of firm", () => {
    const gate = gateOf({ firmness: ["soft", "firm"] }, 21, zones, scale)!;
    expect(gate.x + gate.width / 2).toBeCloseTo(scale.x(21), 0);
    expect(gate.bottom).toBe(scale.y(zones[1]!.from));
    expect(gate.top).toBe(scale.y(zones[2]!.to));
    expect([gate.closedAbove, gate.closedBelow]).toEqual([true, true]);
  });

  it("leaves the gate open where the maker sets no end", () => {
    const gate = gateOf({ firmness: ["firm", "hard"] }, 21, zones, scale)!;
    expect([gate.closedAbove, gate.closedBelow]).toEqual([false, true]);
    expect(gateOf({}, 21, zones, scale)).toBeUndefined();
  });

  it("draws a point a degree, and closes the band", () => {
    const { judgement } = readScene(openComposer(anOffer()));
    const corners = (kind: "settled" | "fresh" | "band") =>
      fatLine(kind, judgement!.solidFat, scale).split(" ");
    expect(corners("settled")).toHaveLength(36);
    expect(corners("fresh")).not.toEqual(corners("settled"));
    const band = corners("band");
    expect(band).toHaveLength(72);
    expect(band[36]!.split(",")[0]).toBe(band[35]!.split(",")[0]);
    for (const corner of [...band, ...corners("fresh")]) expect(corner).toMatch(/^[\d.]+,[\d.]+$/);
  });

  it("draws nothing of a blend without figures", () => {
    expect([fatLine("settled", [], scale), fatLine("band", [], scale)]).toEqual(["", ""]);
  });
});

describe("a maker's own law", () => {
  const law = { ...PUBLISHED_LAW, scalePa: 4 * PUBLISHED_LAW.scalePa };

  it("moves the classes in the picture: four times as firm, half the solids", () => {
    const own = zonesOf(0.35, law);
    for (const { firmness, from } of zones) {
      expect(own.find((zone) => zone.firmness === firmness)!.from).toBeCloseTo(from / 2, 10);
    }
  });

  it("judges the blend in the page as the service does", () => {
    const offer = anOffer();
    const usual = readScene(openComposer(offer)).judgement!.firmness!;
    const own = readScene(openComposer({ ...offer, law })).judgement!.firmness!;
    expect(own.yieldPa).toBeCloseTo(4 * usual.yieldPa, 6);
  });
});
