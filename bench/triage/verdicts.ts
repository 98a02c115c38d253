import type { FindingCode } from "../../src/pipeline/triage/findings.js";
import { spreadOf } from "../statistics.js";
import { markdownTable, NONE } from "../table.js";
import { gradeFor, type Judged } from "./judged.js";
import type { Planted } from "./planted.js";

/** Uploads alike in what was planted. */
interface Class {
  readonly name: string;
  readonly has: (planted: Planted) => boolean;
}

const isPhoto = ({ special }: Planted): boolean => special !== "pure-noise";
const blurred =
  (from: number, below: number) =>
  (planted: Planted): boolean =>
    isPhoto(planted) && planted.blurSpots >= from && planted.blurSpots < below;

const BLURS: readonly Class[] = [
  { name: "none", has: blurred(0, 0.5) },
  { name: "1 to 1.6", has: blurred(0.5, 2) },
  { name: "2.5 to 3", has: blurred(2, 4) },
  { name: "4 to 5", has: blurred(4, 6) },
  { name: "6.2 to 8", has: blurred(6, 9) },
  { name: "10 to 20", has: blurred(9, 99) },
  { name: "below 2, date stamp", has: (p) => blurred(0, 2)(p) && p.special === "stamp" },
  { name: "from 6, date stamp", has: (p) => blurred(6, 99)(p) && p.special === "stamp" },
  { name: "below 2, soft background", has: (p) => blurred(0, 2)(p) && p.special === "soft-background" },
];

/** Standard deviation that is left of planted noise on a spot, if it averages away with the root of the pixels. */
const noiseOnSpot = (planted: Planted): number =>
  planted.noiseCodes / Math.max(1, pxPerSpot(planted) / planted.enlarged);

/** All photographs are about as wide as 4 : 3. */
const pxPerSpot = ({ megapixels, spots }: Planted): number => Math.sqrt((megapixels * 1e6 * 4) / 3) / spots;

const GRAINS: readonly Class[] = [
  { name: "none", has: (p) => isPhoto(p) && p.noiseCodes === 0 },
  { name: "below 1 code on a spot", has: (p) => isPhoto(p) && p.noiseCodes > 0 && noiseOnSpot(p) < 1 },
  { name: "1 to 3 codes", has: (p) => isPhoto(p) && noiseOnSpot(p) >= 1 && noiseOnSpot(p) < 3 },
  { name: "3 codes and more", has: (p) => isPhoto(p) && noiseOnSpot(p) >= 3 },
  { name: "nothing but noise", has: (p) => !isPhoto(p) },
];

/** Blocks of compression of this side show at arm's length. */
const SHOWN_MM = 0.5;
const blockMm = (planted: Planted): number => (8 * planted.enlarged * planted.spotMm) / pxPerSpot(planted);

const compressed =
  (from: number, below: number, shows: boolean) =>
  (planted: Planted): boolean =>
    isPhoto(planted) &&
    planted.quality >= from &&
    planted.quality < below &&
    blockMm(planted) >= SHOWN_MM === shows;

const BLOCKS: readonly Class[] = [
  { name: "never compressed so", has: (p) => isPhoto(p) && p.quality === 100 },
  { name: "quality 85 to 98", has: compressed(85, 100, true) },
  { name: "quality 60 to 75", has: compressed(60, 85, true) },
  { name: "quality 40", has: compressed(40, 60, true) },
  { name: "quality 15 to 25", has: compressed(0, 40, true) },
  { name: "quality 15 to 25, enlarged", has: (p) => compressed(0, 40, true)(p) && p.enlarged > 1 },
  { name: "quality 15 to 25, blocks below half a mm", has: compressed(0, 40, false) },
];

const share = (all: readonly Judged[], code: FindingCode, grades: readonly string[]): number =>
  all.filter((judged) => grades.includes(gradeFor(judged, code))).length / all.length;

function table(title: string, code: FindingCode, classes: readonly Class[], all: readonly Judged[]): string {
  const body = classes.map(({ name, has }) => {
    const cells = [true, false].flatMap((setting) => {
      const those = all.filter(({ planted }) => planted.setting === setting && has(planted));
      if (those.length === 0) return ["0", NONE, NONE];
      const percent = (...grades: string[]) => `${Math.round(100 * share(those, code, grades))} %`;
      return [String(those.length), percent("note", "ask"), percent("ask")];
    });
    return [name, ...cells];
  });
  const half = (name: string) => [`${name}: uploads`, "told", "asked"];
  return `## ${title}\n\n${markdownTable(["planted", ...half("setting"), ...half("judging")], body)}\n`;
}

/** Verdicts against what was planted, for both halves of the photographs, and the cost. */
export function report(all: readonly Judged[]): string {
  const twelve = all.filter(({ planted }) => planted.megapixels === 12).map(({ triageMs }) => triageMs);
  const cost =
    twelve.length > 0
      ? `\nTriage of 12 megapixels: ${spreadOf(twelve).median.toFixed(0)} ms of processor time (median)`
      : "";
  return [
    table("Blur, in spots", "BLURRED", BLURS, all),
    table("Noise", "GRAINY", GRAINS, all),
    table("Blocks of compression", "BLOCKS", BLOCKS, all),
    cost,
  ].join("\n");
}

/** What must hold. */
export function failures(judging: readonly Judged[]): string[] {
  const of = (has: Class["has"]) => judging.filter(({ planted }) => has(planted));
  const [sharp, soft] = [of(blurred(0, 2)), of(blurred(6, 99))];
  const [missed, alarms] = [1 - share(soft, "BLURRED", ["ask"]), share(sharp, "BLURRED", ["ask"])];
  const noise = share(
    of((planted) => !isPhoto(planted)),
    "GRAINY",
    ["ask"],
  );
  return [
    ...(missed > 0.05 ? [`blur of six spots and more is missed in ${(100 * missed).toFixed(1)} %`] : []),
    ...(alarms > 0.05 ? [`${(100 * alarms).toFixed(1)} % are asked with blur below two spots`] : []),
    ...(noise < 1 ? ["pure noise is not always asked"] : []),
  ];
}
