import { existsSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import sharp from "sharp";
import type { ResponsePoints } from "../../src/core/material/response.js";
import { seededRandom } from "../../src/core/random.js";
import { testCard } from "../../src/index.js";
import { middlingPoints } from "../../tests/7-calibration/virtual-card.js";
import { gradualPoints, lighteningPoints, steepPoints } from "../../tests/support/materials.js";
import {
  photographed,
  type VirtualCamera,
  type VirtualEngraving,
} from "../../tests/support/virtual-camera.js";

/** Each with the preset that a user would begin with. */
const SURFACES: readonly {
  readonly name: string;
  readonly response: ResponsePoints;
  readonly preset: string;
}[] = [
  { name: "gradual", response: gradualPoints, preset: "maple" },
  { name: "steep", response: steepPoints, preset: "maple" },
  { name: "middling", response: middlingPoints, preset: "maple" },
  { name: "lightening", response: lighteningPoints, preset: "slate" },
];
const SPEED_MM_PER_S = 300;

/** A machine, a material and a camera that nobody knows, and what their user believes of the spot. */
export interface Workshop {
  readonly seed: number;
  readonly surface: (typeof SURFACES)[number];
  readonly engraving: Required<Omit<VirtualEngraving, "lineExponent" | "doseFactor" | "stopsAfter">>;
  readonly guessMm: number;
  /** Takes a picture at each of these exposures, and the next one as if held by hand. */
  readonly camera: VirtualCamera;
  readonly exposures: readonly number[];
}

/** How the pictures are taken. */
export interface WishedPictures {
  /** Perfect ones. */
  readonly plain: boolean;
  /** Two exposures with any camera. */
  readonly two: boolean;
}

export function drawWorkshop(seed: number, { plain, two }: WishedPictures): Workshop {
  const random = seededRandom(seed);
  // Neighbouring seeds begin alike.
  for (let k = 0; k < 20; k++) random();
  const between = (low: number, high: number) => low + (high - low) * random();
  const fault = (low: number, high: number) => {
    const value = between(low, high);
    return random() < 0.5 ? value : 0;
  };
  const spotAlongMm = 0.06 * (0.25 / 0.06) ** random();
  const spotAcrossMm = Math.min(0.25, Math.max(0.06, spotAlongMm * between(0.8, 1.5)));
  const surface = SURFACES[seed % SURFACES.length];
  const engraving = {
    ...{ response: surface.response, spotAlongMm, spotAcrossMm, speedMmPerS: SPEED_MM_PER_S },
    ...{ firingLossUs: fault(-20, 40), firingLagUs: fault(0, 100), lineShiftMm: fault(-0.1, 0.1) },
    spread: { local: between(0, 0.08), localLengthMm: between(2, 6), line: between(0, 0.08) },
  };
  const guessMm = Number((Math.sqrt(spotAlongMm * spotAcrossMm) * between(0.8, 1.25)).toFixed(3));
  const camera = {
    ...{ columns: 3000, rows: 2250, tiltDeg: between(0, 30), tiltTowardsDeg: between(0, 360) },
    ...{ rollDeg: between(-180, 180), radial: between(-0.03, 0.03), gradient: between(1, 2) },
    ...{ gradientTowardsDeg: between(0, 360), vignetting: random() < 0.5, blurPx: between(0, 1.5) },
    ...{ noise: between(0, 0.02), grain: between(0, 0.03), jpeg: 80 },
    curve: ["srgb", "srgb", "power", "phone"][Math.floor(4 * random())],
  };
  const exposure = between(0.6, 0.95);
  // One picture cannot tell a curve that differs much from sRGB.
  const exposures = two || camera.curve === "phone" ? [exposure, exposure / 2.2] : [exposure];
  const perfect = { columns: 3000, rows: 2250, jpeg: 0 };
  const taken = plain ? { camera: perfect, exposures: [0.9] } : { camera, exposures };
  return { seed, surface, engraving, guessMm, ...taken };
}

/** A card of a workshop, as its owner asks for it. */
export interface WishedCard {
  readonly size: string;
  /** Also engraved at half the speed: lag, spot and line shift stand in another proportion there. */
  readonly isSlowToo: boolean;
}

/** @param folder keeps the pictures for the next run */
export async function picturesOf(
  workshop: Workshop,
  { size, isSlowToo }: WishedCard,
  folder = newFolder(),
): Promise<Uint8Array[]> {
  mkdirSync(folder, { recursive: true });
  const speeds = isSlowToo ? [SPEED_MM_PER_S, SPEED_MM_PER_S / 2] : [SPEED_MM_PER_S];
  const pictures = [];
  for (const [n, speedMmPerS] of speeds.entries()) {
    const stem = join(folder, `${size}-${workshop.seed}${n === 0 ? "" : "-slow"}`);
    pictures.push(...(await picturesAt(workshop, { size, speedMmPerS, n, stem })));
  }
  return pictures;
}

interface CardAt {
  readonly size: string;
  readonly speedMmPerS: number;
  /** Which card of the workshop this is. */
  readonly n: number;
  readonly stem: string;
}

async function picturesAt(workshop: Workshop, { size, speedMmPerS, n, stem }: CardAt): Promise<Uint8Array[]> {
  const { seed, guessMm, camera, exposures } = workshop;
  const engraving = { ...workshop.engraving, speedMmPerS };
  const [widthMm, heightMm] = size.split("x").map(Number);
  const files = exposures.map((_, k) => `${stem}-${k}.jpg`);
  if (!files.every((file) => existsSync(file))) {
    const options = { sizeMm: { widthMm, heightMm }, spotMm: guessMm, speedMmPerS, seed: n + 1 };
    const cameras = exposures.map((exposure, k) => ({
      ...camera,
      ...{ exposure, rollDeg: Number(camera.rollDeg) + 2 * k },
    }));
    const pictures = photographed(await testCard(options), engraving, cameras, seed + 10_000 * n);
    for (const [k, { bytes }] of pictures.entries()) {
      writeFileSync(files[k], await withExposure(bytes, exposures[k] / 100, camera.jpeg === 0 ? 100 : 80));
    }
  }
  return files.map((file) => readFileSync(file));
}

const newFolder = (): string => mkdtempSync(join(tmpdir(), "spotpitch-loop-"));

const withExposure = (bytes: Buffer, seconds: number, quality: number): Promise<Buffer> =>
  sharp(bytes)
    .withExif({
      IFD2: { ExposureTime: `${Math.round(1e6 * seconds)}/1000000`, FNumber: "9/5", ISOSpeedRatings: "100" },
    })
    .jpeg({ quality })
    .toBuffer();
