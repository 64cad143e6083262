/**
 * What stands on the demo shop's shelf. Suppliers, lot codes, prices and the certificate are invented.
 */
import type { PackCost } from "#core/price/policy.ts";

export interface DemoIngredient {
  readonly id: string;
  readonly libraryId?: string;
  readonly name?: string;
  readonly supplier: string;
  /** As the maker wrote it; its weight is `pack.packMg`. */
  readonly packText?: string;
  readonly pack?: PackCost;
  readonly refined?: "refined" | "unrefined";
  readonly scent?: string;
  readonly lowBelowG?: number;
  /** The maker's own greatest share, where it is more than trade habit [hundredths of a percent] */
  readonly doseMostShare?: number;
  readonly note?: string;
}

export interface DemoLot {
  readonly ingredientId: string;
  readonly code: string;
  readonly receivedDaysAgo: number;
  /** From the day of seeding. */
  readonly keepsDays: number;
  readonly receivedG: number;
  readonly onHandG: number;
  readonly costMinor: number;
  /** JSON text as the service keeps a certificate. */
  readonly certificate?: string;
  readonly note?: string;
}

const BUTTERS = "Thornwick Butters";
const OILS = "Saltmere Oils";
const SCENTS = "Larkbourne Distillers";
const SUNDRIES = "Pennyfold Sundries";

const pack = (packMinor: number, packG: number): PackCost => ({ packMinor, packMg: packG * 1000 });

export const DEMO_INGREDIENTS: readonly DemoIngredient[] = [
  {
    id: "shea-butter",
    supplier: BUTTERS,
    pack: pack(1180, 1000),
    refined: "refined",
    lowBelowG: 1000,
  },
  {
    id: "cocoa-butter",
    supplier: BUTTERS,
    pack: pack(1950, 1000),
    refined: "unrefined",
    scent: "chocolate",
  },
  { id: "mango-butter", supplier: BUTTERS, pack: pack(1640, 1000) },
  { id: "kokum-butter", supplier: BUTTERS, pack: pack(2380, 1000) },
  { id: "jojoba-oil", supplier: OILS, pack: pack(2890, 1000), lowBelowG: 500 },
  { id: "squalane", supplier: SUNDRIES, pack: pack(3450, 1000) },
  { id: "fractionated-coconut-oil", supplier: OILS, pack: pack(1090, 1000) },
  { id: "meadowfoam-oil", supplier: OILS, pack: pack(4120, 1000) },
  { id: "sunflower-oil", supplier: OILS, pack: pack(420, 1000), refined: "refined" },
  { id: "high-oleic-sunflower-oil", supplier: OILS, pack: pack(560, 1000) },
  { id: "sweet-almond-oil", supplier: OILS, pack: pack(1230, 1000) },
  { id: "apricot-kernel-oil", supplier: OILS, pack: pack(1310, 1000) },
  {
    id: "olive-oil",
    supplier: OILS,
    pack: pack(890, 1000),
    refined: "unrefined",
    scent: "peppery",
  },
  { id: "argan-oil", supplier: OILS, pack: pack(3980, 1000) },
  { id: "grapeseed-oil", supplier: OILS, pack: pack(740, 1000) },
  {
    id: "hemp-seed-oil",
    supplier: OILS,
    pack: pack(1490, 1000),
    refined: "unrefined",
    doseMostShare: 2500,
  },
  { id: "safflower-oil", supplier: OILS, pack: pack(680, 1000) },
  { id: "avocado-oil", supplier: OILS, pack: pack(1360, 1000) },
  {
    id: "castor-oil",
    name: "Castor oil, cold pressed",
    supplier: OILS,
    pack: pack(790, 1000),
    doseMostShare: 3000,
  },
  { id: "macadamia-oil", supplier: OILS, pack: pack(1870, 1000) },
  { id: "sesame-oil", name: "Sesame oil, untoasted", supplier: OILS, pack: pack(960, 1000) },
  { id: "tapioca-starch", supplier: SUNDRIES, pack: pack(460, 1000) },
  { id: "tocopherol", supplier: SUNDRIES, pack: pack(2240, 250) },
  { id: "lavender-essential-oil", supplier: SCENTS, pack: pack(1150, 100) },
  { id: "sweet-orange-essential-oil", supplier: SCENTS, pack: pack(540, 100) },
  { id: "geranium-essential-oil", supplier: SCENTS, pack: pack(2680, 100) },
  { id: "patchouli-essential-oil", supplier: SCENTS, pack: pack(1720, 100) },
  {
    id: "raw-shea",
    libraryId: "shea-butter",
    name: "Raw shea, the smoky tub",
    supplier: BUTTERS,
    refined: "unrefined",
    scent: "smoky, nutty",
    note: "A sample to try; ask for its price before it goes into anything.",
  },
];

/** Of a cocoa butter a little softer than the library's; the figures are invented. */
const CERTIFICATE = JSON.stringify({
  solidFatCurve: [
    { celsius: 10, percent: 92 },
    { celsius: 20, percent: 76 },
    { celsius: 25, percent: 66 },
    { celsius: 30, percent: 35 },
    { celsius: 35, percent: 1 },
  ],
});

export const DEMO_LOTS: readonly DemoLot[] = [
  lot("shea-butter", "TB-2207", { received: 90, keeps: 260, of: [5000, 1850], costMinor: 5400 }),
  lot("shea-butter", "TB-2291", { received: 12, keeps: 520, of: [5000, 5000], costMinor: 5600 }),
  {
    ...lot("cocoa-butter", "TB-C118", {
      received: 40,
      keeps: 600,
      of: [3000, 2640],
      costMinor: 5700,
    }),
    certificate: CERTIFICATE,
    note: "Certificate invented for the demo.",
  },
  lot("mango-butter", "TB-M054", { received: 65, keeps: 330, of: [3000, 2400], costMinor: 4800 }),
  lot("kokum-butter", "TB-K009", { received: 65, keeps: 420, of: [2000, 1700], costMinor: 4700 }),
  lot("jojoba-oil", "SO-4410", { received: 150, keeps: 400, of: [1000, 320], costMinor: 2890 }),
  lot("squalane", "PF-77-1", { received: 80, keeps: 500, of: [1000, 900], costMinor: 3450 }),
  lot("fractionated-coconut-oil", "SO-4302", { received: 80, keeps: 560, of: [1000, 950] }),
  lot("meadowfoam-oil", "SO-4377", { received: 50, keeps: 600, of: [500, 500], costMinor: 2100 }),
  lot("sunflower-oil", "SO-4433", { received: 30, keeps: 240, of: [2000, 1800], costMinor: 840 }),
  lot("high-oleic-sunflower-oil", "SO-4434", { received: 30, keeps: 300, of: [1000, 1000] }),
  lot("sweet-almond-oil", "SO-4390", {
    received: 45,
    keeps: 200,
    of: [1000, 880],
    costMinor: 1230,
  }),
  lot("apricot-kernel-oil", "SO-4391", {
    received: 45,
    keeps: 210,
    of: [1000, 910],
    costMinor: 1310,
  }),
  lot("olive-oil", "SO-4368", { received: 55, keeps: 320, of: [1000, 760], costMinor: 890 }),
  lot("argan-oil", "SO-4401", { received: 35, keeps: 380, of: [500, 450], costMinor: 1990 }),
  lot("grapeseed-oil", "SO-4420", { received: 25, keeps: 160, of: [1000, 930], costMinor: 740 }),
  lot("hemp-seed-oil", "SO-4208", { received: 160, keeps: 23, of: [500, 410], costMinor: 760 }),
  lot("safflower-oil", "SO-4421", { received: 25, keeps: 170, of: [1000, 1000], costMinor: 680 }),
  lot("avocado-oil", "SO-4371", { received: 55, keeps: 280, of: [1000, 820], costMinor: 1360 }),
  lot("castor-oil", "SO-4299", { received: 85, keeps: 450, of: [500, 500], costMinor: 410 }),
  lot("macadamia-oil", "SO-4372", { received: 55, keeps: 260, of: [500, 470], costMinor: 950 }),
  lot("sesame-oil", "SO-4373", { received: 55, keeps: 270, of: [500, 500], costMinor: 490 }),
  lot("tapioca-starch", "PF-80-4", { received: 20, keeps: 640, of: [1000, 900], costMinor: 460 }),
  lot("tocopherol", "PF-79-2", { received: 60, keeps: 480, of: [250, 210], costMinor: 2240 }),
];

function lot(
  ingredientId: string,
  code: string,
  said: {
    readonly received: number;
    readonly keeps: number;
    readonly of: readonly [receivedG: number, onHandG: number];
    readonly costMinor?: number;
  },
): DemoLot {
  const [receivedG, onHandG] = said.of;
  const { pack: bought } = DEMO_INGREDIENTS.find(({ id }) => id === ingredientId)!;
  const byPack = Math.round((bought!.packMinor * receivedG * 1000) / bought!.packMg);
  return {
    ingredientId,
    code,
    receivedDaysAgo: said.received,
    keepsDays: said.keeps,
    receivedG,
    onHandG,
    costMinor: said.costMinor ?? byPack,
  };
}
