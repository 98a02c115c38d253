/**
 * Bad pictures of test cards, engraved and photographed by `tests/reference/camera.py`: each is read rightly, or refused for the right
 * reason, in Markdown: `npm run bench:pictures`. `--only glare` takes cases whose name holds that; `--read` leaves the fit out;
 * `--keep DIR` keeps the pictures.
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { createResponse, luminanceFactorAt, type ResponsePoints } from "../src/core/material/response.js";
import { lightnessFromLuminance } from "../src/core/physics/lightness.js";
import { calibrate, type MadeTestCard, SpotpitchError, testCard } from "../src/index.js";
import { readCard } from "../src/pipeline/calibration/card-reading.js";
import { engravedPictures, photographed, type VirtualEngraving } from "../tests/support/virtual-camera.js";
import { type BadPicture, badPictures, plainCamera } from "./card-pictures/cases.js";
import { markdownTable } from "./table.js";

const { values: given } = parseArgs({
  options: {
    only: { type: "string", default: "" },
    read: { type: "boolean", default: false },
    keep: { type: "string" },
  },
});

const BARE = 0.6;
const middling: ResponsePoints = [
  [0, BARE],
  [0.25, 0.55],
  [0.5, 0.3],
  [0.75, 0.15],
  [1, 0.1],
];
const wood: VirtualEngraving = {
  ...{ response: middling, spotAlongMm: 0.11, spotAcrossMm: 0.14, speedMmPerS: 300 },
  spread: { local: 0.04, localLengthMm: 2, line: 0.03 },
};
const plainCard = {
  linesPerInch: 762,
  spotMm: 0.13,
  speedMmPerS: 300,
  sizeMm: { widthMm: 60, heightMm: 45 },
};
/** Patches that are farther off than this, in L* rms, are read wrongly. */
const MOST_READING_ERROR = 2;
/** And so is a curve. */
const MOST_ERROR = 2;
/** What every calibration of this card may warn of. */
const USUAL = ["camera-assumed", "not-learnt", "patches-spoilt", "not-saturated"];

/** A picture, and what the patches of the card are like, if it shows that card. */
interface Taken {
  readonly bytes: Buffer;
  readonly means: readonly number[];
}

/** Pictures by other cameras: taken together, because engraving takes longer than a picture. */
function otherCameras(card: MadeTestCard, cases: readonly BadPicture[]): Map<BadPicture, Taken> {
  const those = cases.filter(({ camera }) => camera);
  const pictures = photographed(
    card,
    wood,
    those.map(({ camera }) => ({ ...plainCamera, ...camera })),
  );
  return new Map(those.map((each, k) => [each, pictures[k]]));
}

async function taken(card: MadeTestCard, { made, engraved, edit }: BadPicture, usual: Taken): Promise<Taken> {
  if (made) return { bytes: await made(), means: [] };
  if (!engraved) return edit ? { ...usual, bytes: await edit(usual.bytes) } : usual;
  const { name: _, bitmap, ...engraving } = engraved;
  const all = { ...wood, ...engraving };
  const [picture] = bitmap
    ? engravedPictures(await bitmap(), all, [plainCamera])
    : photographed(card, all, [plainCamera]);
  return picture;
}

const rms = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((sum, each) => sum + each * each, 0) / values.length);

const lightnessOff = (found: number, truth: number): number =>
  lightnessFromLuminance(found) - lightnessFromLuminance(truth);

/** Difference in L*, rms over doses up to 1. The truth of a card that was burned with other power is that at its doses. */
function responseError(found: ResponsePoints, doseFactor: number): number {
  const [a, b] = [found, middling].map(createResponse);
  const doses = Array.from({ length: 41 }, (_, k) => k / 40);
  return rms(
    doses.map((dose) => lightnessOff(luminanceFactorAt(a, dose), luminanceFactorAt(b, dose * doseFactor))),
  );
}

/** Difference in L*, rms over the patches that were used. */
const readingError = (patches: readonly PatchRead[], means: readonly number[]): number =>
  rms(patches.flatMap(({ measured, spoilt }, k) => (spoilt ? [] : [lightnessOff(measured, means[k])])));

interface PatchRead {
  readonly measured: number;
  readonly spoilt: boolean;
}

const shown = (value: number, digits = 2): string => (Number.isNaN(value) ? "" : value.toFixed(digits));

/** Cells after the name. */
async function outcomeOf(each: BadPicture, { bytes, means }: Taken): Promise<string[]> {
  try {
    return given.read ? await readAlone(each, bytes, means) : await readInFull(each, bytes, means);
  } catch (error) {
    if (!(error instanceof SpotpitchError)) throw error;
    const id = error.refusal?.id ?? error.code;
    return [id, each.refusals?.includes(id) ? "right" : "**WRONG REASON**", "", "", "", "", "", ""];
  }
}

/** What no picture shows must be said in words. */
const verdictOf = ({ unseen }: BadPicture, isRight: boolean): string =>
  isRight ? "right" : unseen ? "told" : "**WRONG**";

async function readAlone(each: BadPicture, bytes: Buffer, means: readonly number[]): Promise<string[]> {
  const { overBare, usable } = await readCard(bytes, each.name, each.recipe?.code);
  const patches = Array.from(overBare, (ratio, k) => ({ measured: ratio * BARE, spoilt: usable[k] === 0 }));
  const off = readingError(patches, means);
  const spoilt = patches.filter((patch) => patch.spoilt).length;
  return ["read", verdictOf(each, off < MOST_READING_ERROR), shown(off), "", "", "", `${spoilt}`, ""];
}

async function readInFull(each: BadPicture, bytes: Buffer, means: readonly number[]): Promise<string[]> {
  const { name, recipe, engraved } = each;
  const options = { material: "maple", bareLuminance: BARE, speedMmPerS: 300 };
  const { calibration, material } = await calibrate([{ bytes, fileName: name }], options, { recipe });
  const { spotAlongMm, spotAcrossMm, patches, warnings } = calibration;
  const off = readingError(patches, means);
  const responseOff = responseError(material.response, engraved?.doseFactor ?? 1);
  const spots = [[spotAlongMm, wood.spotAlongMm] as const, [spotAcrossMm, wood.spotAcrossMm] as const].map(
    ([{ value, learnt }, truth]) => (learnt ? `${((value / truth - 1) * 100).toFixed(0)} %` : "unknown"),
  );
  const spoilt = patches.filter((patch) => patch.spoilt).length;
  const told = warnings.map(({ code }) => code).filter((code) => !USUAL.includes(code));
  return [
    ...["read", verdictOf(each, responseOff < MOST_ERROR), shown(off), shown(responseOff)],
    ...[...spots, `${spoilt}`, told.join(", ")],
  ];
}

const card = await testCard(plainCard);
const others = {
  order: await testCard({ ...plainCard, seed: 2 }),
  coarser: await testCard({ ...plainCard, linesPerInch: 600 }),
  smaller: await testCard({ ...plainCard, sizeMm: { widthMm: 50, heightMm: 40 } }),
};
const [usual] = photographed(card, wood, [plainCamera]);
const [{ bytes: other }] = photographed(others.order, wood, [plainCamera]);
const cases = badPictures(card, others, { plain: usual.bytes, other }).filter(({ name }) =>
  name.includes(given.only),
);
const byCamera = otherCameras(card, cases);
const rows: string[][] = [];
for (const [k, each] of cases.entries()) {
  const picture = await taken(card, each, byCamera.get(each) ?? usual);
  if (given.keep !== undefined) {
    mkdirSync(given.keep, { recursive: true });
    writeFileSync(join(given.keep, `${k}-${each.name.replace(/\W+/g, "-")}.jpg`), picture.bytes);
  }
  const row = [each.name, ...(await outcomeOf(each, picture))];
  process.stderr.write(`${row.join(" | ")}\n`);
  rows.push(row);
}
const head = [
  "picture",
  "outcome",
  "",
  "patches, ΔL*",
  "response, ΔL*",
  "along",
  "across",
  "left out",
  "told",
];
console.log(markdownTable(head, rows));
console.log(`\n${rows.length} pictures, ${rows.filter((row) => row[2].startsWith("**")).length} wrong.`);
