/**
 * What the curve of a camera does to the patches of a card, in Markdown: read from one picture, where sRGB is assumed, and from several
 * at other exposures, which the files tell or not. `npx tsx bench/camera-curves.ts`
 */
import sharp from "sharp";
import { lightnessFromLuminance } from "../src/core/physics/lightness.js";
import { testCard } from "../src/index.js";
import { readCard } from "../src/pipeline/calibration/card-reading.js";
import { correctedReadings } from "../src/pipeline/calibration/corrected-readings.js";
import { joinedReadings } from "../src/pipeline/calibration/joined-readings.js";
import { photographed, type VirtualEngraving } from "../tests/support/virtual-camera.js";
import { plainCamera } from "./card-pictures/cases.js";
import { markdownTable } from "./table.js";

const BARE = 0.6;
const wood: VirtualEngraving = {
  response: [
    [0, BARE],
    [0.25, 0.55],
    [0.5, 0.3],
    [0.75, 0.15],
    [1, 0.1],
  ],
  ...{ spotAlongMm: 0.11, spotAcrossMm: 0.14, speedMmPerS: 300 },
  spread: { local: 0.04, localLengthMm: 2, line: 0.03 },
};
const CURVES = ["srgb", "power", "phone"];
/** Code of white in light, and the seconds that such a picture is exposed. */
const EXPOSURES = [0.9, 0.45, 0.225];

const withExposure = (bytes: Buffer, seconds: number): Promise<Buffer> =>
  sharp(bytes)
    .withExif({
      IFD2: { ExposureTime: `${Math.round(1e6 * seconds)}/1000000`, FNumber: "9/5", ISOSpeedRatings: "100" },
    })
    .jpeg({ quality: 95 })
    .toBuffer();

async function errorOf(files: readonly Buffer[], means: readonly number[]): Promise<string> {
  const read = [];
  for (const bytes of files) read.push(await readCard(bytes, "card.jpg"));
  const { readings, camera } = correctedReadings(read);
  const { overBare, usable } = joinedReadings(readings);
  const squares = Array.from(overBare, (each, k) =>
    usable[k] ? (lightnessFromLuminance(each * BARE) - lightnessFromLuminance(means[k])) ** 2 : 0,
  );
  const rms = Math.sqrt(squares.reduce((sum, each) => sum + each, 0) / squares.length);
  return `${rms.toFixed(2)}${camera || files.length === 1 ? "" : ", no curve"}`;
}

const card = await testCard({
  ...{ linesPerInch: 762, spotMm: 0.13, speedMmPerS: 300, sizeMm: { widthMm: 60, heightMm: 45 } },
});
const rows: string[][] = [];
for (const curve of CURVES) {
  // Held by hand: no two pictures are quite alike.
  const cameras = EXPOSURES.map((exposure, k) => ({
    ...plainCamera,
    ...{ curve, exposure, rollDeg: 4 - 3 * k, tiltDeg: 8 + 3 * k },
  }));
  const pictures = photographed(card, wood, cameras);
  const { means } = pictures[0];
  const files = pictures.map(({ bytes }) => bytes);
  const told = await Promise.all(files.map((bytes, k) => withExposure(bytes, EXPOSURES[k] / 50)));
  rows.push([
    curve,
    await errorOf(files.slice(0, 1), means),
    await errorOf(files.slice(0, 2), means),
    await errorOf(told.slice(0, 2), means),
    await errorOf(files, means),
    await errorOf(told, means),
  ]);
}
const head = ["curve", "one picture", "two", "two, told", "three", "three, told"];
console.log(`Patches off by, L* rms:\n\n${markdownTable(head, rows)}`);
