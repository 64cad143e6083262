/**
 * The room of a draft, measured when it is asked for, and what could stand in when an ingredient runs out.
 */
import { type Base, type Choice, allowedAt } from "#core/compose/product.ts";
import { Hono } from "hono";
import { streamText } from "hono/streaming";
import { issueTrial } from "../../batches/trial.ts";
import { readForm } from "../../middleware.ts";
import { roomPage } from "../../pages/maker-product-room.ts";
import { standInPage } from "../../pages/maker-product-stand-in.ts";
import { type PictureAxes, pictureModel, usualAxes } from "../../pages/room-picture.ts";
import type { Shop } from "../../ports.ts";
import { Refusal } from "../../problem.ts";
import { type Desk, type Desks, nameOf } from "../../products/desk.ts";
import type { OpenProduct } from "../../products/open-product.ts";
import { subjectName } from "../../products/room-words.ts";
import type { Rooms } from "../../products/rooms.ts";
import { ChoiceShape } from "../../shapes.ts";
import { numberOf } from "../../typed/figure.ts";
import { textOf } from "../../typed/text.ts";
import { authorOf, productOf, productPage } from "./product-page.ts";
import type { Signed, SignedContext } from "./visit.ts";

export function roomRoutes(shop: Shop, desks: Desks, rooms: Rooms) {
  return (
    new Hono<Signed>()
      .get("/:id/room", async (c) => {
        const open = await productOf(shop, desks, c);
        const measure = c.req.query("measure") !== undefined;
        const report = measure ? await rooms.measure(open) : rooms.known(open);
        const model = {
          ...roomPage(open, report),
          picture: report ? await pictureOf(rooms, open, c) : undefined,
        };
        return c.html(await productPage(shop, c, open, ["maker-product-room", "room"], model));
      })
      /** The same, telling how far it is: a line of JSON now and then. */
      .get("/:id/room/progress", async (c) => {
        const open = await productOf(shop, desks, c);
        return streamText(c, async (stream) => {
          await rooms.measure(open, async (progress) => {
            await stream.writeln(JSON.stringify(progress));
          });
          await stream.writeln(JSON.stringify({ done: true }));
        });
      })
      /** One of the ends, as it was shown, at the bench. */
      .post("/:id/room/trial", async (c) => {
        const form = await readForm(c);
        const { product } = (await productOf(shop, desks, c)).stored.document;
        const { personId } = authorOf(c);
        const choice = readChoice(textOf(form, "choice"));
        const massG = numberOf(textOf(form, "massG"));
        const number = await issueTrial(shop, c.get("owner"), { product, choice, massG, personId });
        return c.redirect(`/maker/batches/${number}`, 303);
      })
      .get("/:id/stand-in", async (c) => {
        const open = await productOf(shop, desks, c);
        const model = standInPage(open, c.req.query("oil") ?? "");
        const page = ["maker-product-stand-in", "overview", "Stand-ins"] as const;
        return c.html(await productPage(shop, c, open, page, model));
      })
  );
}

/** @throws Refusal make.batch.refused when it is no choice of shares at all; what it names is looked at after */
function readChoice(typed: string): Choice {
  const parsed = ChoiceShape.safeParse(jsonOf(typed));
  if (parsed.success) return parsed.data;
  const detail =
    "The form does not say which blend. Measure the room again and choose one of its ends.";
  throw new Refusal("make.batch.refused", detail);
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** The picture asked for in the address; what does not fit the base is passed over. */
async function pictureOf(rooms: Rooms, open: OpenProduct, c: SignedContext) {
  const { product } = open.stored.document;
  const base = product.bases.find(({ id }) => id === c.req.query("base")) ?? product.bases[0];
  const axes = base && axesOf(base, c);
  if (!base || !axes) return undefined;
  const oils = Object.fromEntries(
    base.oils.flatMap(({ place }) => {
      const wanted = c.req.query(`oil-${place}`);
      return wanted && allowedAt(product, place).includes(wanted) ? [[place, wanted] as const] : [];
    }),
  );
  const picture = await rooms.picture(open, { base: base.id, ...axes, oils });
  const { desk } = open;
  return {
    ...pictureModel(picture, axes, { product, desk }),
    bases: product.bases.map(({ id, name }) => ({
      value: id,
      words: name,
      chosen: id === base.id,
    })),
    across: subjectChoices(base, axes.across, product, desk),
    up: subjectChoices(base, axes.up, product, desk),
    oils: base.oils.map(({ place }) => ({
      place,
      name: subjectName(place, product, desk),
      choices: allowedAt(product, place).map((id) => ({
        value: id,
        words: nameOf(desk, id),
        chosen: id === picture.oils[place],
      })),
    })),
  };
}

function axesOf(base: Base, c: SignedContext): PictureAxes | undefined {
  const usual = usualAxes(base);
  const [across, up] = [c.req.query("across"), c.req.query("up")];
  const subjects = subjectsOf(base);
  if (across && up && across !== up && subjects.includes(across) && subjects.includes(up)) {
    return { across, up };
  }
  return usual;
}

function subjectsOf({ butters, oils }: Base): string[] {
  return [...butters.map(({ ingredient }) => ingredient), ...oils.map(({ place }) => place)];
}

function subjectChoices(
  base: Base,
  chosen: string,
  product: OpenProduct["stored"]["document"]["product"],
  desk: Desk,
) {
  return subjectsOf(base).map((value) => ({
    value,
    words: subjectName(value, product, desk),
    chosen: value === chosen,
  }));
}
