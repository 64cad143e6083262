import { expect, test } from "vitest";
import { makeWorkOrder, type WorkOrder } from "#core/make/work-order.ts";
import {
  type DocumentPage,
  renderBatchSheets,
  sheetsModel,
} from "#service/documents/batch-sheets.ts";
import { renderTemplate } from "#service/documents/render.ts";
import { SEVEN_BLEND, SOFT_BLEND, TWELVE_BLEND } from "../../helpers/ingredients.ts";
import { aWorkOrderInput } from "../../helpers/work-orders.ts";

const PAGE = { stylesheets: ["/assets/print.css"], locale: "en-GB", practice: false };

function written(change: Partial<ReturnType<typeof aWorkOrderInput>> = {}): WorkOrder {
  const made = makeWorkOrder({ ...aWorkOrderInput(), ...change });
  if ("findings" in made) throw new Error(made.findings[0]!.code);
  return made.workOrder;
}

function rendered(workOrder: WorkOrder, page: DocumentPage): string {
  return renderBatchSheets([{ workOrder, loads: 1 }], page);
}

test("prints every weigh line with its target, its label name and its share", () => {
  for (const blend of [SEVEN_BLEND, TWELVE_BLEND]) {
    const sheet = written({ blend });
    const html = rendered(sheet, PAGE);
    const rows = html.match(/<tr>\s*<td class="tick-column">[\s\S]*?<\/tr>/g) ?? [];
    expect(rows).toHaveLength(blend.parts.length);
    for (const line of sheet.weighList.flatMap((group) => group.lines)) {
      const row = rows[line.line - 1]!;
      expect(row).toContain(line.name);
      expect(row).toContain(line.inci);
      expect(row).toContain(`<td class="figure target">${line.targetG}</td>`);
      expect(row).toContain(`${(line.share / 100).toFixed(2)}\u00a0%`);
      expect(row.match(/<td class="write"><\/td>/g)).toHaveLength(4); // tare, actual, lot, initials
    }
  }
});

test("prints every step, caution and order, and the sentence that outranks the sheet", () => {
  const sheet = written();
  const html = decode(rendered(sheet, PAGE));
  const { sheets, defer } = sheetsModel([{ workOrder: sheet, loads: 1 }], PAGE);
  const { weigh, steps, cautions } = sheets[0]!;
  for (const { title, words, blanks, cautions: care } of [weigh!, ...steps]) {
    for (const each of [title, words, ...care]) expect(html).toContain(each);
    for (const { label } of blanks) expect(html).toContain(`<dt>${label}</dt>`);
  }
  for (const each of [...cautions.keep, ...cautions.customer]) expect(html).toContain(each);
  expect(steps).toHaveLength(sheet.steps.length - 1);
  for (const { reference, jarName } of sheet.jars) {
    expect(html).toContain(reference);
    expect(html).toContain(jarName);
  }
  expect(html).toContain(sheet.label.text);
  expect(defer).toMatch(/local codes.*suppliers’ documents.*safety assessment/i);
  expect(html).toContain(defer);
  expect(html).toContain("25 November 2026");
  expect(html).toContain("2 December 2026");
  expect(html).toContain("78 to 81\u00a0°C, 15 to 20\u00a0min");
});

test("escapes names that try to be markup", () => {
  const nasty = `<img src=x onerror="alert(1)">' {{7}} \u202e`;
  const blend = {
    parts: SEVEN_BLEND.parts.map(({ ingredient, share }) => ({
      ingredient: {
        ...ingredient,
        name: `${nasty}${ingredient.id}`,
        inci: `${nasty}${ingredient.id}`,
      },
      share,
    })),
  };
  const html = rendered(
    written({
      blend,
      batchNumber: nasty,
      makerName: nasty,
      productName: nasty,
      baseName: nasty,
      orders: [{ reference: nasty, jarName: nasty, fillG: 500, quantity: 2 }],
    }),
    { ...PAGE, stylesheets: [nasty], backHref: `/x"${nasty}` },
  );
  expect(html).not.toContain("<img");
  expect(html).not.toMatch(/<[^>]*"\s+onerror/);
  expect(html).toContain("&lt;img src&#x3D;x onerror&#x3D;&quot;alert(1)&quot;&gt;");
});

test("carries no style or script of its own, so that a strict content policy holds", () => {
  const html = rendered(written(), {
    ...PAGE,
    backHref: "/bench",
  });
  expect(html).not.toMatch(/<script|<style|\sstyle=|\son\w+=|javascript:/i);
  expect(html).toContain('<link rel="stylesheet" href="/assets/print.css">');
});

test("marks a sheet of the practice till, and only that", () => {
  expect(rendered(written(), { ...PAGE, practice: true })).toContain("practice till");
  expect(rendered(written(), PAGE)).not.toContain("practice till");
});

test("links back only where there is a way back", () => {
  expect(rendered(written(), { ...PAGE, backHref: "/bench/7" })).toContain('href="/bench/7"');
  expect(rendered(written(), PAGE)).not.toContain("<nav");
});

test("leaves no hole in the page", () => {
  for (const blend of [SEVEN_BLEND, TWELVE_BLEND, SOFT_BLEND]) {
    expect(rendered(written({ blend }), PAGE)).not.toMatch(/undefined|NaN|\[object/);
  }
});

test("fails loudly on a missing field or an unknown template", () => {
  expect(() => renderTemplate("documents/work-order", {})).toThrow();
  expect(() => renderTemplate("documents/none", {})).toThrow("documents/none");
});

function decode(html: string): string {
  return html
    .replaceAll("&#x27;", "'")
    .replaceAll("&quot;", '"')
    .replaceAll("&#x3D;", "=")
    .replaceAll("&amp;", "&");
}

test("prints a sheet a run after a list of what to fetch, with loads and suggested lots where there are any", () => {
  const sheet = written();
  const lines = sheet.weighList.flatMap((group) => group.lines);
  const thirds = [0, 1, 2].map((load) => lines.map(({ targetMg }) => targetMg / 2 + load * 100));
  const lot = { code: "<b>LOT-7" } as never;
  const html = renderBatchSheets(
    [
      { workOrder: sheet, loads: 3, loadTargetsMg: thirds },
      { workOrder: sheet, loads: 1 },
    ],
    PAGE,
    [lines.map(({ targetMg }) => [{ lot, takeMg: targetMg }])],
  );
  expect(html.match(/<article class="sheet/g)).toHaveLength(3);
  expect(html.match(/<main/g)).toHaveLength(1);
  expect(html).toContain("The vessel holds it in 3 loads");
  for (const load of thirds) expect(html).toContain((load[0]! / 1000).toFixed(1));
  expect(html).toContain("&lt;b&gt;LOT-7");
  const ids = [...html.matchAll(/\sid="([^"]+)"/g)].map(([, id]) => id);
  expect(new Set(ids).size).toBe(ids.length);
});
