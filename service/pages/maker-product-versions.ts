/**
 * A product on the whole, one of its versions, and publishing the next.
 */
import type { RoomReport } from "#core/order/room/room.ts";
import { type Documents, differencesOf, sayAll } from "../products/differences.ts";
import { labelNotes } from "../products/label-notes.ts";
import type { OpenProduct } from "../products/open-product.ts";
import type { RoomRecord } from "../products/publish.ts";
import type { Obstacle } from "../products/readiness.ts";
import { roomSummary } from "../products/room-words.ts";
import { judgeBase } from "../products/judge-base.ts";
import { type ShutMonths, ownShut, sayOwnShut, sayShut, shutKey } from "../products/year.ts";
import type { ListedVersion } from "../storage/products.ts";
import { momentIn } from "./maker-pages.ts";
import { obstacleLink, productHref } from "./maker-product.ts";

/** What stands in the way, what differs, and the versions. */
export function overviewPage(open: OpenProduct, found: readonly ListedVersion[], most: number) {
  const { row, version, obstacles, desk } = open;
  const href = productHref(row.id);
  const when = momentIn(desk.shop);
  const shown = found.slice(0, most);
  const isThere = row.archivedAt === null;
  return {
    putAway: !isThere,
    obstacles: obstacles.map((each) => obstacleLink(row.id, each)),
    differences: version?.differences ?? [],
    differsTitle: version ? `What the draft changes in version ${version.number}` : "",
    versions: shown.map(({ version: number, publishedAt, by }) => ({
      version: number,
      href: `${href}/versions/${number}`,
      published: when(publishedAt),
      by: by ?? "not told",
      forSale: number === row.publishedVersion,
      canSell: isThere && number !== row.publishedVersion,
      from: row.publishedVersion === null ? "" : String(row.publishedVersion),
      withdraw: `${href}/withdraw`,
    })),
    moreVersions: found.length > most ? `${href}?before=${shown.at(-1)!.version}` : "",
    address: row.publishedVersion === null ? "" : `/shop/${encodeURIComponent(row.id)}`,
  };
}

/** One version as it was published, and what differs from the draft. */
export function versionPage(
  { row, desk, stored }: OpenProduct,
  number: number,
  version: Documents & { readonly publishedAt: number; readonly room: string | null },
  by: string,
) {
  const room = version.room === null ? undefined : (JSON.parse(version.room) as RoomRecord);
  const forSale = number === row.publishedVersion;
  return {
    version: number,
    published: momentIn(desk.shop)(version.publishedAt),
    by,
    forSale,
    canSell: row.archivedAt === null && !forSale,
    from: row.publishedVersion === null ? "" : String(row.publishedVersion),
    differences: differencesOf(version, stored.document, desk),
    said: Object.entries(sayAll(version, desk)).map(([what, figure]) => ({ what, figure })),
    room: room?.sentences ?? [],
  };
}

/** What publishing would do. */
export function publishPage(
  open: OpenProduct,
  version: number,
  {
    report,
    shut,
  }: { readonly report: RoomReport | undefined; readonly shut: readonly ShutMonths[] },
  obstacles: readonly Obstacle[] = open.obstacles,
) {
  const { stored, desk, row } = open;
  const { product } = stored.document;
  const before = open.version;
  return {
    version,
    obstacles: obstacles.map((each) => obstacleLink(row.id, each)),
    room: report ? roomSummary(report, product, desk) : [],
    differsTitle: before ? `What changes from version ${before.number}` : "What is new",
    differences: before ? before.differences : ["All of it: this is the first version."],
    warnings:
      obstacles.length > 0
        ? []
        : [
            ...startsRefused(open),
            ...ownShut(product, desk, shut).map(sayOwnShut),
            ...labelNotes(product, desk),
          ],
    shut: shut.map(sayShut),
    shutKey: shutKey(shut),
    unchanged: before !== undefined && before.differences.length === 0,
  };
}

/** A customer who starts from a refused base has to mend it first: allowed, and worth a word. */
function startsRefused({ stored, desk, shipDay }: OpenProduct): string[] {
  const { product } = stored.document;
  return product.bases.flatMap((base) => {
    const judged = judgeBase(product, base, desk, shipDay);
    if (!("judgement" in judged) || judged.judgement.verdict === "orderable") return [];
    return [`${base.name} as you wrote it cannot be ordered: customers must move it first.`];
  });
}
