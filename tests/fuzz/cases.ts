import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import sharp, { type Sharp } from "sharp";
import { decodePhoto, inspectPhoto } from "../../src/1-photo/decode.js";
import { drawingDanger } from "../../src/batch/drawing-dangers.js";
import { readSheet } from "../../src/cli/batch/sheet.js";
import { commandOptions } from "../../src/cli/flags.js";
import { readOptions } from "../../src/cli/read-options.js";
import { resolveMaterial } from "../../src/core/material/material.js";
import { type Random, seededRandom } from "../../src/core/random.js";
import { type CurveStore, type PrepareOptions, prepare, SpotpitchError } from "../../src/index.js";
import { checkCompareOptions } from "../../src/options/compare-options.js";
import { resolveOptions } from "../../src/options/options.js";
import { checkPlanOptions } from "../../src/options/plan-options.js";
import { triagePhoto } from "../../src/pipeline/triage/triage.js";
import { photographPath } from "../pipeline/photograph.js";
import { below, mutateBytes, oneOf } from "./mutate-bytes.js";
import { mutateJson } from "./mutate-json.js";
import { mutateParts, mutateText } from "./mutate-parts.js";

/** Pixels that a mutated file may declare. */
const MOST_PIXELS = 4e6;

const piece: PrepareOptions = {
  ...{ widthMm: 5, linesPerInch: 150, spotMm: 0.15, method: "floyd-steinberg", material: "maple" },
};

const material = {
  name: "driftwood",
  response: [
    [0, 0.62],
    [0.25, 0.6],
    [0.5, 0.36],
    [1, 0.09],
  ],
  ...{
    bareColor: "#e3c9a0",
    markedColor: "#3a2415",
    referencePitchMm: 0.1,
    charDose: 1.2,
    lineExponent: 1.5,
  },
  referenceSpotMm: { alongMm: 0.08, acrossMm: 0.12 },
  ...{ source: "measured 2026-05-01", hazards: ["Smoke."] },
};

const options = {
  ...{ widthMm: 40, heightMm: 30, fit: "contain", linesPerInch: 254, linesPerInchAlong: 300 },
  ...{ spotMm: { alongMm: 0.08, acrossMm: 0.15 }, material, method: "blue-noise", levels: 4, seed: 3 },
  ...{
    crop: { leftPercent: 1, topPercent: 1, widthPercent: 50, heightPercent: 60 },
    focus: { xPx: 3, yPx: 4 },
  },
  ...{
    oval: true,
    vignetteMm: 1,
    borderMm: 0.4,
    speedMmPerS: 200,
    firingLagUs: 30,
    firingLossUs: -20,
    doseSpread: 0.1,
  },
};

const planned = {
  ...{
    kind: "photo",
    widthMm: 40,
    spotMm: [0.1, 0.115],
    material,
    linesPerInch: [150, 254, 508],
    minutes: 10,
  },
  ...{ doseSpread: 0.1, speedMmPerS: 200, accelerationMmPerS2: 3000 },
};

const config = {
  ...{ width: "80mm", density: "10/mm", spot: "0.08x0.15mm", material: "slate", method: "auto", levels: 2 },
  ...{ crop: "10%,5%,80%,60%", focus: "20%,30%", "auto-tone": false, "dose-spread": "12%", out: "engraved" },
};

const SHEET = "file,width,material,note\nboat.jpg,80mm,slate,for Ada\nnet.png,2in,maple,\n";

/** What is mutated: valid files and objects. */
export async function validInputs() {
  const small = await sharp(photographPath("nagasaki-boats")).resize(96, 72).toBuffer();
  const as = async (change: (image: Sharp) => Sharp) => change(sharp(small)).toBuffer();
  return {
    photos: {
      jpeg: [
        await as((image) => image.jpeg()),
        await as((image) => image.withMetadata().jpeg({ progressive: true })),
      ],
      png: [await as((image) => image.png()), await as((image) => image.png({ palette: true }))],
      webp: [
        await as((image) => image.webp()),
        await as((image) => image.ensureAlpha(0.5).webp({ lossless: true })),
      ],
      tiff: [
        await as((image) => image.tiff({ compression: "lzw" })),
        await as((image) => image.tiff({ tile: true })),
      ],
      avif: [await as((image) => image.avif({ effort: 0 }))],
      heic: ["harbour", "harbour-clear"].map((name) =>
        readFileSync(fileURLToPath(new URL(`../1-photo/data/${name}.heic`, import.meta.url))),
      ),
      gif: [await as((image) => image.gif())],
    },
    drawing: readFileSync(fileURLToPath(new URL("../../sample-images/logo.svg", import.meta.url)), "utf8"),
  };
}

type ValidInputs = Awaited<ReturnType<typeof validInputs>>;

function curveStore(): CurveStore {
  const kept = new Map<string, ReturnType<CurveStore["get"]>>();
  return { get: (key) => kept.get(key), set: (key, curve) => void kept.set(key, curve) };
}

/** Runs case after case; what a case needs on disk is in a folder of its own. */
export function createCases(valid: ValidInputs) {
  const curves = curveStore();
  const folder = mkdtempSync(join(tmpdir(), "spotpitch-fuzz-"));

  async function photo(random: Random): Promise<void> {
    const format = oneOf(random, ["jpeg", "png", "webp", "tiff", "avif", "heic", "gif"] as const);
    let bytes: Buffer = oneOf(random, valid.photos[format]);
    for (let times = 1 + below(random, 2); times > 0; times--) {
      bytes = random() < 0.7 ? mutateParts(random, bytes, format) : mutateBytes(random, bytes);
    }
    await asUpload(bytes);
  }

  async function drawing(random: Random): Promise<void> {
    let text = valid.drawing;
    for (let times = 1 + below(random, 4); times > 0; times--) text = mutateText(random, text);
    const bytes = Buffer.from(text);
    if (drawingDanger(bytes) === undefined) await asUpload(bytes);
  }

  /** As a batch takes it: looked at, judged, prepared. */
  async function asUpload(bytes: Buffer): Promise<void> {
    const limits = { fileName: "upload", maxPixels: MOST_PIXELS };
    await inspectPhoto(bytes, limits);
    const decoded = await decodePhoto(bytes, limits);
    await triagePhoto(decoded, resolveOptions(piece));
    await prepare(bytes, piece, { threads: 1, curves });
  }

  const asFile = (name: string, text: string): string => {
    const path = join(folder, name);
    writeFileSync(path, text);
    return path;
  };
  const mutated = (random: Random, value: unknown): unknown => {
    let changed = value;
    for (let times = 1 + below(random, 3); times > 0; times--) changed = mutateJson(random, changed);
    return changed;
  };
  const jsonText = (random: Random, value: unknown): string => {
    const text = JSON.stringify(mutated(random, value)) ?? "";
    return random() < 0.3 ? mutateBytes(random, Buffer.from(text)).toString() : text;
  };
  type Loose = Record<string, unknown>;
  const KINDS: readonly (readonly [share: number, kind: string, run: (random: Random) => unknown])[] = [
    [0.5, "photo", photo],
    [0.1, "drawing", drawing],
    [0.12, "options", (random) => resolveOptions(mutated(random, options) as PrepareOptions)],
    [0.04, "plan options", (random) => checkPlanOptions(mutated(random, planned) as Loose)],
    [0.04, "compare options", (random) => checkCompareOptions(mutated(random, options) as Loose)],
    [0.1, "material", (random) => resolveMaterial(mutated(random, material))],
    [
      0.05,
      "config file",
      (random) =>
        readOptions(commandOptions.prepare, new Map(), {
          config: asFile("c.json", jsonText(random, config)),
        }),
    ],
    [0.05, "job sheet", (random) => readSheet(asFile("s.csv", mutateText(random, SHEET)))],
  ];

  /** Of shares laid end to end on 0..1. */
  function kindAt(place: number) {
    let end = 0;
    return (
      KINDS.find(([share]) => {
        end += share;
        return place < end;
      }) ?? KINDS[0]
    );
  }

  return {
    /**
     * Case `n`: the same at each run. Returns what it was of and how it ended; throws nothing but what should never be thrown.
     */
    async run(n: number): Promise<{ readonly kind: string; readonly ended: string }> {
      const random = seededRandom(n * 2654435761);
      const [, kind, run] = kindAt(random());
      try {
        await run(random);
        return { kind, ended: "taken" };
      } catch (error) {
        if (error instanceof SpotpitchError && error.code !== "INTERNAL") return { kind, ended: error.code };
        throw error;
      }
    },
    end: () => rmSync(folder, { recursive: true, force: true }),
  };
}
