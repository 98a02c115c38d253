import { basename, join } from "node:path";
import { type Contender, type Job, mmFromPixels, root, type Tone } from "../job.js";

export const builtCommand = join(root, "dist/cli/main.js");

/** The photo's own tones in linear light: what the other tools' outputs can be held against. */
export const plain = ours("own tones kept", "light", [
  "--bitmap-only",
  "--no-compensate",
  "--no-auto-tone",
  "--tone-map",
  "luminance",
]);

export const plainWithLevels = ours("automatic levels", "own", ["--bitmap-only", "--no-compensate"]);

export const compensated: readonly Contender[] = [
  ours("tone curve measured", "own", []),
  ours("tone curve cached", "own", [], true),
  ours("tone curve measured", "own", ["--bitmap-only"]),
  ours("tone curve cached", "own", ["--bitmap-only"], true),
];

/** This package, as its users run it. Its cache is in a folder of ours, new for every run unless `cached`. */
function ours(what: string, tone: Tone, flags: readonly string[], cached = false): Contender {
  const shown = flags.filter((flag) => flag === "--bitmap-only" || flag === "--no-compensate");
  return {
    name: `${["`spotpitch prepare", ...shown].join(" ")}\`, ${what}`,
    tone,
    run: (job, folder, kept) => ({
      command: [process.execPath, builtCommand, "prepare", ...pieceOf(job), ...flags, "--out", folder],
      environment: { XDG_CACHE_HOME: cached ? kept : join(folder, "cache") },
      bitmap: join(folder, `${basename(job.photo.file, ".jpg")}.burn.png`),
    }),
  };
}

function pieceOf({ photo, columns, rows, linesPerInch }: Job): string[] {
  const mm = (pixels: number) => `${mmFromPixels(pixels, linesPerInch)}mm`;
  return [
    photo.file,
    ...["--width", mm(columns), "--height", mm(rows), "--fit", "stretch", "--density", `${linesPerInch}`],
    ...["--spot", "0.1mm", "--material", "maple", "--method", "floyd-steinberg"],
  ];
}
