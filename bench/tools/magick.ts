import { join } from "node:path";
import { outputOf } from "../child.js";
import { type Job, root, type Tool } from "../job.js";
import { writing } from "./writing.js";

const toSize = ({ columns, rows }: Job) =>
  ["-colorspace", "Gray", "-filter", "Lanczos", "-resize", `${columns}x${rows}!`] as const;

/** Two tones by `-remap`, not `-monochrome`: that one stretches the contrast first and so changes the tones. */
export function imageMagick(): Tool {
  const isOne = (program: string) => outputOf([program, "-version"])?.includes("ImageMagick");
  const program = ["magick", "convert"].find(isOne) ?? "";
  const version = /ImageMagick (\S+ \S+)/.exec((program && outputOf([program, "-version"])) || "")?.[1];
  return {
    name: "ImageMagick",
    version: version && `${version}, memory policy raised to 8 GiB`,
    contenders: [
      writing(
        "ImageMagick, Lanczos and -remap pattern:gray50",
        "codes",
        (job, to) => [
          program,
          ...[job.photo.file, ...toSize(job)],
          ...["-dither", "FloydSteinberg", "-remap", "pattern:gray50"],
          ...["-units", "PixelsPerInch", "-density", `${job.linesPerInch}`, to],
        ],
        { MAGICK_CONFIGURE_PATH: join(root, "bench/tools/imagemagick-policy") },
      ),
    ],
  };
}

/** Two tones by `-map`, for the same reason; `-type` then writes them as one bit. */
export function graphicsMagick(): Tool {
  const version = /GraphicsMagick (\S+)/.exec(outputOf(["gm", "version"]) ?? "")?.[1];
  const limits = outputOf(["gm", "convert", "-list", "resources"]) ?? "";
  const limit = (name: string) => new RegExp(`${name}:\\s*(\\S+)`).exec(limits)?.[1] ?? "unknown";
  return {
    name: "GraphicsMagick",
    version:
      version && `${version}, limits as they come: memory ${limit("Memory")}, pixels ${limit("Pixels")}`,
    contenders: [
      writing("GraphicsMagick, Lanczos and -map PATTERN:GRAY50", "codes", (job, to) => [
        "gm",
        ...["convert", job.photo.file, ...toSize(job)],
        ...["-dither", "-map", "PATTERN:GRAY50", "-type", "Bilevel"],
        ...["-units", "PixelsPerInch", "-density", `${job.linesPerInch}x${job.linesPerInch}`, to],
      ]),
    ],
  };
}
