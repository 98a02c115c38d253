import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Command, outputOf } from "./child.js";
import type { BenchPhoto } from "./photo.js";

export const LINES_PER_INCH = 508;
export const PIXELS_PER_METRE = Math.round(LINES_PER_INCH / 0.0254);

export const mmFromPixels = (pixels: number): number => (pixels * 25.4) / LINES_PER_INCH;

export const root = fileURLToPath(new URL("..", import.meta.url));
export const builtCommand = join(root, "dist/cli/main.js");

/**
 * What the white share of the bits stands for: `light`, the photo's linear luminance; `codes`, its encoded grey taken for
 * light; `compensated`, what spot and material need.
 */
export type Tone = "compensated" | "light" | "codes";

/** One way to do the job. */
export interface Contender {
  readonly name: string;
  readonly tone: Tone;
  /** The command that does it, given an empty folder for what it writes, and the bitmap that it leaves there. */
  readonly job: (photo: BenchPhoto, folder: string) => { readonly command: Command; readonly bitmap: string };
}

/** A program or library that the comparison needs; no version where it is missing. */
export interface Tool {
  readonly name: string;
  readonly version: string | undefined;
  readonly contenders: readonly Contender[];
}

export const PILLOW = "Pillow";
export const FULL = "spotpitch";
export const BITMAP_ONLY = "spotpitch --bitmap-only";

export const findTools = (): Tool[] => [pillow(), imageMagick(), netpbm()];

/** This package, as its users run it. */
export const ourContenders: readonly Contender[] = [
  { name: FULL, tone: "compensated", job: ourJob() },
  { name: BITMAP_ONLY, tone: "compensated", job: ourJob("--bitmap-only") },
  {
    name: "spotpitch --bitmap-only --no-compensate --no-auto-tone --tone-map luminance",
    tone: "light",
    job: ourJob("--bitmap-only", "--no-compensate", "--no-auto-tone", "--tone-map", "luminance"),
  },
];

function ourJob(...flags: string[]): Contender["job"] {
  return ({ file, columns, rows }, folder) => {
    const size = ["--width", `${mmFromPixels(columns)}mm`, "--height", `${mmFromPixels(rows)}mm`];
    const piece = ["--density", `${LINES_PER_INCH}`, "--spot", "0.1mm", "--material", "maple"];
    const how = ["--method", "floyd-steinberg", ...flags, "--out", folder];
    return {
      command: [process.execPath, builtCommand, "prepare", file, ...size, ...piece, ...how],
      bitmap: join(folder, `${basename(file, ".jpg")}.burn.png`),
    };
  };
}

/** A contender that is told which file to write. */
function writing(name: string, tone: Tone, command: (photo: BenchPhoto, to: string) => Command): Contender {
  return {
    name,
    tone,
    job: (photo, folder) => {
      const bitmap = join(folder, "bitmap.png");
      return { command: command(photo, bitmap), bitmap };
    },
  };
}

function pillow(): Tool {
  const script = join(root, "bench/pillow_job.py");
  // The system's interpreter first, because distributions package Pillow for it and not for a private one.
  const ask = "import sys, PIL; print(PIL.__version__, 'on Python', sys.version.split()[0])";
  const python = ["/usr/bin/python3", "python3"].find((each) => outputOf([each, "-c", ask])) ?? "";
  return {
    name: PILLOW,
    version: python ? outputOf([python, "-c", ask]) : undefined,
    contenders: [
      writing(`${PILLOW}, LANCZOS and convert("1")`, "codes", ({ file, columns, rows }, to) => [
        python,
        script,
        file,
        to,
        ...[columns, rows, LINES_PER_INCH].map(String),
      ]),
    ],
  };
}

/**
 * Two tones by `-remap`, not `-monochrome`: that one stretches the contrast first and so changes the mean tone.
 */
function imageMagick(): Tool {
  const isOne = (program: string) => outputOf([program, "-version"])?.includes("ImageMagick");
  const program = ["magick", "convert"].find(isOne) ?? "";
  const version = /ImageMagick (\S+ \S+)/.exec((program && outputOf([program, "-version"])) || "")?.[1];
  return {
    name: "ImageMagick",
    version,
    contenders: [
      writing("ImageMagick, Lanczos and -remap pattern:gray50", "codes", ({ file, columns, rows }, to) => [
        program,
        file,
        ...["-colorspace", "Gray", "-filter", "Lanczos", "-resize", `${columns}x${rows}!`],
        ...["-dither", "FloydSteinberg", "-remap", "pattern:gray50"],
        ...["-units", "PixelsPerInch", "-density", `${LINES_PER_INCH}`, to],
      ]),
    ],
  };
}

const NETPBM_PROGRAMS = "jpegtopnm ppmtopgm pnmgamma pamscale pgmtopbm pamditherbw pnmtopng".split(" ");

function netpbm(): Tool {
  const runs = NETPBM_PROGRAMS.every((program) => outputOf([program, "-version"]) !== undefined);
  const version = /Netpbm Version: Netpbm (\S+)/.exec(outputOf(["pamscale", "-version"]) ?? "")?.[1];
  const pipeline = (middle: string) => {
    return ({ file, columns, rows }: BenchPhoto, to: string): Command => [
      "sh",
      "-c",
      `jpegtopnm -quiet "$1" | ${middle.replace("SCALE", 'pamscale -xsize="$2" -ysize="$3"')} | pnmtopng -quiet -size="$4 $4 1" > "$5"`,
      "sh",
      file,
      ...[columns, rows, PIXELS_PER_METRE].map(String),
      to,
    ];
  };
  return {
    name: "netpbm",
    version: runs ? (version ?? "version unknown") : undefined,
    contenders: [
      writing(
        "netpbm, pamscale and pgmtopbm -fs",
        "codes",
        pipeline("ppmtopgm | SCALE | pgmtopbm -fs -randomseed=1"),
      ),
      // pamditherbw takes its samples as encoded by BT.709, which a JPEG's are not.
      writing(
        "netpbm, pnmgamma, pamscale and pamditherbw -fs",
        "light",
        pipeline("ppmtopgm | pnmgamma -srgbtobt709 | SCALE | pamditherbw -fs -randomseed=1"),
      ),
    ],
  };
}
