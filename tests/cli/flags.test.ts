import { writeFileSync } from "node:fs";
import { Command, Option } from "commander";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { batchSettings } from "../../src/batch/batch-options.js";
import type { QueueSettings } from "../../src/batch/queue-options.js";
import type { BoardOptions } from "../../src/board/board-options.js";
import {
  type CommandOptions,
  commandOptions,
  type Flag,
  flagName,
  isSwitch,
  oppositeName,
} from "../../src/cli/flags.js";
import { readOptions } from "../../src/cli/read-options.js";
import type {
  CalibrateOptions,
  CardOptions,
  PlanOptions,
  PowerTestOptions,
  PrepareOptions,
} from "../../src/index.js";
import { temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";

/*
 * What each flag means, written by hand: the flag, a text for it (none for a switch), the option of the library that it sets,
 * and the value. Units are converted by hand: an inch is 25.4 mm. No two numbers are alike, so that no flag can stand for another.
 */
type Row = readonly [
  flag: string,
  text: string | undefined,
  option:
    | keyof PrepareOptions
    | keyof BoardOptions
    | keyof PlanOptions
    | keyof PowerTestOptions
    | keyof CardOptions
    | keyof CalibrateOptions,
  value: unknown,
];

const folder = temporaryFolder();
const mask = folder.in("keep.png");
const maskBytes = Buffer.from("a mask is read as it is");
beforeAll(() => writeFileSync(mask, maskBytes));
afterAll(() => folder.remove());

const everywhere: readonly Row[] = [
  ["width", "3in", "widthMm", 76.2],
  ["height", "4.5cm", "heightMm", 45],
  ["around", "60mm", "aroundMm", 60],
  ["around", "80..61mm", "aroundMm", { topMm: 80, bottomMm: 61 }],
  ["place", "20mm,90deg", "place", { fromRimMm: 20, angleDeg: 90 }],
  ["wall", "14cm", "wallMm", 140],
  ["cone", "level", "coneLayout", "level"],
  ["fit", "contain", "fit", "contain"],
  ["crop", "10%,5%,80%,60%", "crop", { leftPercent: 10, topPercent: 5, widthPercent: 80, heightPercent: 60 }],
  ["crop", "400,20,1600,1200", "crop", { leftPx: 400, topPx: 20, widthPx: 1600, heightPx: 1200 }],
  ["focus", "40%,30%", "focus", { xPercent: 40, yPercent: 30 }],
  ["focus", "1200,800px", "focus", { xPx: 1200, yPx: 800 }],
  ["mask", mask, "mask", { bytes: maskBytes, fileName: "keep.png" }],
  ["oval", undefined, "oval", true],
  ["no-oval", undefined, "oval", false],
  ["vignette", "5mm", "vignetteMm", 5],
  ["border", "0.6", "borderMm", 0.6],
  ["border-gap", "0.1cm", "borderGapMm", 1],
  ["material", "slate", "material", "slate"],
  ["method", "bayer-8", "method", "bayer-8"],
  ["levels", "16", "levels", 16],
  ["scan", "raster", "scan", "raster"],
  ["screen-ruling", "2/mm", "screenLinesPerInch", 50.8],
  ["screen-angle", "-30", "screenAngleDeg", -30],
  ["clumping", "0.7", "clumping", 0.7],
  ["tone-map", "luminance", "toneMap", "luminance"],
  ["no-compensate", undefined, "compensate", false],
  ["compensate", undefined, "compensate", true],
  ["no-auto-tone", undefined, "autoTone", false],
  ["auto-tone", undefined, "autoTone", true],
  ["clip", "0.5%", "clipPercent", 0.5],
  ["clip", "0.2", "clipPercent", 0.2],
  ["brightness", "12", "brightness", 12],
  ["contrast", "-13", "contrast", -13],
  ["gamma", "1.4", "gamma", 1.4],
  ["lift", "0.3", "lift", 0.3],
  ["lift", "0", "lift", 0],
  ["local-contrast", "0.9", "localContrast", 0.9],
  ["sharpen", "1.1", "sharpen", 1.1],
  ["passes", "3", "passes", 3],
  ["wavelength", "10.6um", "wavelengthMm", 0.0106],
  ["wavelength", "450nm", "wavelengthMm", 0.00045],
  ["m2", "1.3", "propagationRatio", 1.3],
  ["defocus", "-0.3mm", "defocusMm", -0.3],
  ["speed", "250", "speedMmPerS", 250],
  ["accel", "4000", "accelerationMmPerS2", 4000],
  ["offered", "150,10/mm", "linesPerInchOffered", [150, 254]],
  ["offered", "333", "linesPerInchOffered", [333]],
  ["step-time", "0.03", "stepTimeS", 0.03],
  ["firing-lag", "35us", "firingLagUs", 35],
  ["firing-lag", "0.04ms", "firingLagUs", 40],
  ["firing-loss", "33us", "firingLossUs", 33],
  ["firing-loss", "-20us", "firingLossUs", -20],
  ["firing-loss", "-0.03ms", "firingLossUs", -30],
  ["line-shift", "-0.05mm", "lineShiftMm", -0.05],
  ["one-way", undefined, "oneWay", true],
  ["no-one-way", undefined, "oneWay", false],
  ["screen-angle", "30", "screenAngleDeg", 30],
  ["screen-angle", "-22.5deg", "screenAngleDeg", -22.5],
  ["screen-angle", "15°", "screenAngleDeg", 15],
  ["dose-spread", "15%", "doseSpread", 0.15],
  [
    "spread",
    "local=3%,spot=4.5%,local-length=0.21cm",
    "spread",
    { local: 0.03, spot: 0.045, localLengthMm: 2.1 },
  ],
  ["view-distance", "40cm", "viewDistanceMm", 400],
  ["mirror", undefined, "mirror", true],
  ["no-mirror", undefined, "mirror", false],
  ["negative", undefined, "negative", true],
  ["no-negative", undefined, "negative", false],
  ["seed", "77", "seed", 77],
];

/** What `plan` does without, or takes as a list. */
/** A plan does not search. */
const ofSearch: Row[] = [
  ["aim", "robust", "aim", "robust"],
  ["seconds", "90", "searchSeconds", 90],
  ["start-bitmap", mask, "startBitmap", { bytes: maskBytes, fileName: "keep.png" }],
];

const ofOneDensity: readonly Row[] = [
  ["density", "254lpi", "linesPerInch", 254],
  ["density", "12/mm", "linesPerInch", 304.8],
  ["density", "0.2mm", "linesPerInch", 127],
  ["density-along", "5/mm", "linesPerInchAlong", 127],
  ["spot", "0.08x0.15mm", "spotMm", { alongMm: 0.08, acrossMm: 0.15 }],
];

const ofPower: readonly Row[] = [
  ["power", "37%", "powerPercent", 37],
  ["power", "12.5", "powerPercent", 12.5],
  ["power", "38%@10/mm", "powerPercent", { percent: 38, linesPerInch: 254 }],
  ["power", "39%@508@210mm/s", "powerPercent", { percent: 39, linesPerInch: 508, speedMmPerS: 210 }],
];

const ofOnePiece: readonly Row[] = [
  ["kind", "solid", "kind", "solid"],
  ["bitmap-only", undefined, "bitmapOnly", true],
  ["no-bitmap-only", undefined, "bitmapOnly", false],
  ["format", "tiff", "format", "tiff"],
];

const spots = [
  { alongMm: 0.1, acrossMm: 0.1 },
  { alongMm: 0.08, acrossMm: 0.12 },
];

const ofPlan: readonly Row[] = [
  ["kind", "strip", "kind", "strip"],
  ["minutes", "17", "minutes", 17],
  ["tones", "12@0.5mm", "tones", { count: 12, detailMm: 0.5 }],
  // The help names 0.25 mm as the detail that counts.
  ["tones", "11", "tones", { count: 11, detailMm: 0.25 }],
  ["gain", "26%", "gain", 0.26],
  ["mark", "0.115mm", "markMm", 0.115],
  ["margin", "6%", "margin", 0.06],
  ["darkness", "65%", "darkness", 0.65],
  ["against", "32/mm", "against", 812.8],
  ["densities", "150,10/mm,508", "densities", [150, 254, 508]],
  ["densities", "333", "densities", [333]],
  ["spot", "0.1mm,0.08x0.12mm", "spotMm", spots],
  ["spot", "0.08x0.12mm", "spotMm", spots[1]],
  ["focal-length", "2in,38mm", "focalLengthMm", [50.8, 38]],
  ["focal-length", "1.5in", "focalLengthMm", 38.1],
  ["beam-diameter", "7mm", "beamDiameterMm", 7],
  ["lens", "best-form", "lensShape", "best-form"],
  ["lens-index", "2.41", "lensIndex", 2.41],
];

/** What `compare` takes several of. */
const ofCompare: readonly Row[] = [
  ["method", "bayer-8, stucki", "method", ["bayer-8", "stucki"]],
  ["material", "maple,slate", "material", ["maple", "slate"]],
  ["density", "254,12/mm", "linesPerInch", [254, 304.8]],
  ["spot", "0.1mm,0.08x0.12mm", "spotMm", spots],
  ["levels", "2,16", "levels", [2, 16]],
  ["tone-map", "lightness,luminance", "toneMap", ["lightness", "luminance"]],
];

/** What the dose of a solid patch and its run time depend on. */
const ofPatch: readonly Row[] = [
  ["patch", "1.5cm", "patchMm", 15],
  ...everywhere.filter(([flag]) =>
    /^(material|wavelength|m2|defocus|speed|accel|offered|step-time|one-way|no-one-way)$/.test(flag),
  ),
  ...ofOneDensity,
  ["format", "tiff", "format", "tiff"],
];

/** What the pixels of a card, its preview and its run time depend on. */
const ofCard: readonly Row[] = [
  ["size", "4x3cm", "sizeMm", { widthMm: 40, heightMm: 30 }],
  ["size", "3x2in", "sizeMm", { widthMm: 76.2, heightMm: 50.8 }],
  ["dose", "1.5", "doseFactor", 1.5],
  ...everywhere.filter(([flag]) =>
    /^(material|levels|seed|speed|accel|offered|step-time|one-way|no-one-way)$/.test(flag),
  ),
  ...ofOneDensity,
  // Of a check card alone.
  ...everywhere.filter(([flag]) =>
    /^(method|screen-.*|firing-.*|line-shift|spread|view-distance|passes)$/.test(flag),
  ),
  ...ofPower,
];

/** What was believed before a card was read. */
const ofReading: readonly Row[] = [
  ["bare", "0.62", "bareLuminance", 0.62],
  ["paper", "0.85", "paperLuminance", 0.85],
  ["name", "old board", "name", "old board"],
  ...everywhere.filter(([flag]) => /^(material|speed|firing-lag|firing-loss|line-shift|spread)$/.test(flag)),
  ["spot", "0.08x0.15mm", "spotMm", { alongMm: 0.08, acrossMm: 0.15 }],
];

/** Below the picture of one piece. */
const ofText: readonly Row[] = [
  ["text", "Ada & Bo, 2026", "text", "Ada & Bo, 2026"],
  ["text-height", "0.25cm", "textHeightMm", 2.5],
];

/** Where pieces are laid. */
const ofBoard: readonly Row[] = [
  ["copies", "12", "copies", 12],
  ["board", "60x40cm", "boardSizeMm", { widthMm: 600, heightMm: 400 }],
  ["board-gap", "0.25in", "boardGapMm", 6.35],
  ["board-margin", "7mm", "boardMarginMm", 7],
  ["jig", "jigs/coasters.json", "jig", "jigs/coasters.json"],
];

const commands = {
  calibrate: { command: commandOptions.calibrate, rows: ofReading },
  card: { command: commandOptions.card, rows: ofCard },
  "power-test": { command: commandOptions["power-test"], rows: ofPatch },
  prepare: {
    command: commandOptions.prepare,
    rows: [...everywhere, ...ofPower, ...ofOneDensity, ...ofSearch, ...ofOnePiece, ...ofText, ...ofBoard],
  },
  plan: { command: commandOptions.plan, rows: [...everywhere, ...ofPower, ...ofPlan] },
  compare: {
    command: commandOptions.compare,
    rows: [...everywhere, ...ofOneDensity, ...ofSearch, ...ofCompare],
  },
  batch: {
    command: commandOptions.batch,
    rows: [...everywhere, ...ofPower, ...ofOneDensity, ...ofSearch, ...ofOnePiece, ...ofText, ...ofBoard],
  },
} as const;

/*
 * A batch's own options. A megapixel is a million pixels; MB and GB are decimal, as on a disk's label. Nothing
 * said: as many workers as processors, half of the computer's memory, and the limits that the help names.
 */
const PROCESSORS = 3;
const COMPUTER_BYTES = 20e9;
const unasked = {
  pattern: "{folder}/{stem}/{stem}",
  unlisted: "wait",
  workers: 3,
  memoryBytes: 10e9,
  // 300 MB of it are for each worker process itself.
  jobBytes: 9.1e9,
  limits: { maxPixels: 150e6, maxBytes: 200e6, maxSeconds: 60 },
  copies: 1,
  queue: undefined as QueueSettings | undefined,
};
const queued: QueueSettings = {
  queue: "redis://quay",
  store: undefined,
  login: undefined,
  ahead: 64,
  rush: false,
};
const limited = (change: Partial<typeof unasked.limits>) => ({
  ...unasked,
  limits: { ...unasked.limits, ...change },
});
const batchRows: readonly (readonly [flag: string, text: string, settings: typeof unasked])[] = [
  ["names", "{material}/{stem}", { ...unasked, pattern: "{material}/{stem}" }],
  ["unlisted", "prepare", { ...unasked, unlisted: "prepare" }],
  ["workers", "5", { ...unasked, workers: 5, jobBytes: 8.5e9 }],
  ["memory", "1.5", { ...unasked, memoryBytes: 1.5e9, jobBytes: 0.6e9 }],
  ["max-megapixels", "24", limited({ maxPixels: 24e6 })],
  ["max-file-size", "0.5", limited({ maxBytes: 0.5e6 })],
  ["max-seconds", "90", limited({ maxSeconds: 90 })],
  ["queue", "redis://quay", { ...unasked, queue: queued }],
];
/** Options that have an effect only with a queue. */
const queuedRows: readonly (readonly [flag: string, text: string | undefined, queue: QueueSettings])[] = [
  ["store", "/mnt/shop", { ...queued, store: "/mnt/shop" }],
  ["queue-login", "queue.json", { ...queued, login: "queue.json" }],
  ["ahead", "17", { ...queued, ahead: 17 }],
  ["rush", undefined, { ...queued, rush: true }],
];

/** What the option parser of the command makes of words, by flag name. */
function typed(flags: readonly Flag[], words: readonly string[]): Map<string, string | boolean> {
  const command = new Command().exitOverride();
  for (const flag of flags) {
    command.addOption(new Option(flag.usage));
    if (isSwitch(flag)) command.addOption(new Option(`--${oppositeName(flag)}`));
  }
  command.parse(words, { from: "user" });
  const values = new Map<string, string | boolean>();
  for (const flag of flags) {
    const key = new Option(flag.usage).attributeName();
    if (command.getOptionValueSource(key) === "cli") values.set(flagName(flag), command.opts()[key]);
  }
  return values;
}

/** Equal but for the last digits of a conversion. */
function near(value: unknown): unknown {
  if (typeof value === "number") return expect.closeTo(value, 9);
  if (Array.isArray(value)) return value.map(near);
  if (typeof value !== "object" || value === null || value instanceof Uint8Array) return value;
  return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, near(each)]));
}

const wordsOf = (flag: string, text: string | undefined): string[] =>
  text === undefined ? [`--${flag}`] : [`--${flag}`, text];

describe.each<[string, { readonly command: CommandOptions; readonly rows: readonly Row[] }]>(
  Object.entries(commands),
)("%s", (name, { command, rows }) => {
  const { flags } = command;
  it.each(rows)("--%s %s sets %s", async (flag, text, option, value) => {
    const { options } = await readOptions(command, typed(flags, wordsOf(flag, text)), undefined);
    expect(options).toEqual({ [option]: near(value) });
  });

  it.each(rows)("%s of a config file, %s, sets %s", async (flag, text, option, value) => {
    const config = folder.in(`${name}.json`);
    writeFileSync(config, JSON.stringify({ [flag]: text ?? true }));
    const { options } = await readOptions(command, new Map(), { config });
    expect(options).toEqual({ [option]: near(value) });
  });

  it("has a row for every flag that its help lists, and no other", async () => {
    const { stdout } = await spotpitchHere(name, "--help");
    const listed = [...stdout.matchAll(/^ {2}(?:-\w, )?--([a-z0-9-]+)/gm)].map(([, flag]) => flag);
    // Options for places of files and forms of results. The tests that run the command check them.
    const ofTheCommand = ["help", "out", "config", "machine", "no-machine", "json"];
    const ofRecipe = name === "calibrate" ? ["card", "check"] : name === "card" ? ["check"] : [];
    const ofFiles = name === "batch" ? ["sheet", "list", "words", "recursive", "watch"] : [];
    const ofUploads = name === "batch" ? [...batchRows, ...queuedRows].map(([flag]) => flag) : [];
    const opposites = flags.filter(isSwitch).map(oppositeName);
    const inTable = rows.map(([flag]) => flag).filter((flag) => !opposites.includes(flag));
    const expected = new Set([...ofTheCommand, ...ofFiles, ...ofRecipe, ...ofUploads, ...inTable]);
    expect(listed.sort()).toEqual([...expected].sort());
  });
});

describe("batch beyond its pieces", () => {
  const { batch } = commandOptions;
  it.each(batchRows)("--%s %s", async (flag, text, settings) => {
    const { options } = await readOptions(batch, typed(batch.flags, wordsOf(flag, text)), undefined);
    expect(batchSettings({ ...options }, PROCESSORS, COMPUTER_BYTES)).toEqual(settings);
  });

  it.each(queuedRows)("--queue redis://quay --%s %s", async (flag, text, queue) => {
    const words = ["--queue", "redis://quay", ...wordsOf(flag, text)];
    const { options } = await readOptions(batch, typed(batch.flags, words), undefined);
    expect(batchSettings({ ...options }, PROCESSORS, COMPUTER_BYTES).queue).toEqual(queue);
  });

  it("nothing said", () => {
    expect(batchSettings({}, PROCESSORS, COMPUTER_BYTES)).toEqual(unasked);
  });
});
