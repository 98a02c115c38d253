import { type ResampleFilter, resampleFilters } from "../3-resample/filters.js";
import { fits, frameJob } from "../3-resample/frame.js";
import { resampledRows, sourceRowsOf } from "../3-resample/resample.js";
import type { SourceWindow } from "../3-resample/source-window.js";
import { SpotpitchError } from "../core/errors.js";
import type { PixelRectangle } from "../core/pixel-rectangle.js";
import { type Plane, plane } from "../core/plane.js";
import { MAX_PIXELS } from "../options/options.js";
import { type GridOptions, invalidOption, knownOptions, numberOption, pitchOf } from "./job.js";
import { LUMINANCE, outputFor, type Picture, readPicture } from "./picture.js";
import { writeRows } from "./rows.js";

/** Options of `frameOnGrid`. */
export interface FrameOptions extends GridOptions {
  /** Size of the upright picture, in pixels. */
  readonly sourceColumns: number;
  readonly sourceRows: number;
  /** Wanted size, up to 3000 mm. One side is enough; the other then follows from the picture. */
  readonly widthMm?: number | undefined;
  readonly heightMm?: number | undefined;
  /** With both sizes: fill the box and crop (`cover`, default), show all of the picture (`contain`), or distort (`stretch`). */
  readonly fit?: "cover" | "contain" | "stretch" | undefined;
}

const MAX_LENGTH_MM = 3000;

/** How a picture lies on the engraving grid. */
export interface GridFrame {
  /** Size of the bitmap, in pixels; `widthMm` and `heightMm` are its true size. */
  readonly columns: number;
  readonly rows: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** The part of the picture to resample onto `placement`, in source pixels. */
  readonly window: SourceWindow;
  /** Place of this part in the bitmap: all of it, except with `contain`. Around it the surface stays bare. */
  readonly placement: PixelRectangle;
}

/**
 * Lay a picture on the engraving grid: the size of the bitmap in whole pixels and in mm, the part of the picture that it shows
 * (`window`, in source pixels) and the place of this part in the bitmap (`placement`). Plane geometry.
 *
 * @throws SpotpitchError `OPTION_INVALID`, `OPTION_UNKNOWN`, `OPTION_TOO_LARGE` above 400 million pixels
 */
export function frameOnGrid(options: FrameOptions): GridFrame {
  const takes = ["sourceColumns", "sourceRows", "widthMm", "heightMm", "fit", "pitchMm"];
  const asked = knownOptions(options, takes);
  const { fit, widthMm, heightMm } = asked;
  const sizes = {
    ...(widthMm !== undefined && { widthMm: numberOption("widthMm", widthMm, 1e-3, MAX_LENGTH_MM) }),
    ...(heightMm !== undefined && { heightMm: numberOption("heightMm", heightMm, 1e-3, MAX_LENGTH_MM) }),
  };
  if (widthMm === undefined && heightMm === undefined) {
    throw invalidOption("widthMm", "widthMm or heightMm is needed: it sets the size of the piece.");
  }
  const frame = frameJob({
    sourceColumns: wholeOption("sourceColumns", asked.sourceColumns),
    sourceRows: wholeOption("sourceRows", asked.sourceRows),
    ...sizes,
    fit: oneOf("fit", fit ?? "cover", fits),
    pitch: pitchOf(asked),
  });
  const { columns, rows, window, placement } = frame;
  checkPixels(columns, rows);
  return { columns, rows, widthMm: frame.widthMm, heightMm: frame.heightMm, window, placement };
}

/** Options of `resample`. */
export interface ResampleOptions extends GridOptions {
  /** Size of the result, in pixels. */
  readonly columns: number;
  readonly rows: number;
  /** Part of the picture to show, in its pixels; fractions allowed. Default: all of it. */
  readonly window?: SourceWindow | undefined;
  /** One of `resampleFilters`. Default `lanczos3`. */
  readonly filter?: ResampleFilter | undefined;
  /** [rows × columns] Array for the result. */
  readonly out?: Float32Array | undefined;
}

/**
 * Resample a picture in linear light, limited to 0..1. For reduction the filter averages over the area of each output pixel
 * (D. Schumacher, "General filtered image rescaling", Graphics Gems III, 1992). The picture does not shift. Sources of the filters:
 * Lanczos, C. E. Duchon, 1979; Mitchell and Catmull–Rom, D. P. Mitchell and A. N. Netravali, 1988; the others as in
 * K. Turkowski, "Filters for common resampling tasks", 1990.
 *
 * @param luminance [rows, columns] linear, 0..1; not modified
 * @returns [rows, columns] of the given size, with `pitchMm` as its pitch if that is given
 * @throws SpotpitchError `OPTION_INVALID`, `OPTION_UNKNOWN`, `OPTION_TOO_LARGE`
 */
export function resample(luminance: Picture<"luminance">, options: ResampleOptions): Plane<"luminance"> {
  const source = readPicture("luminance", luminance, LUMINANCE);
  const takes = ["columns", "rows", "window", "filter", "pitchMm", "out"];
  const asked = knownOptions(options, takes);
  const columns = wholeOption("columns", asked.columns);
  const rows = wholeOption("rows", asked.rows);
  checkPixels(columns, rows);
  const filter = oneOf("filter", options.filter ?? "lanczos3", resampleFilters);
  const window = options.window ?? { left: 0, top: 0, width: source.columns, height: source.rows };
  checkWindow(window, source);
  const out = outputFor(options.out, columns * rows, Float32Array, [source]);
  const { data, columns: sourceColumns, rows: sourceRows } = source;
  const shape = {
    sourceColumns,
    sourceRows,
    window,
    columns,
    rows,
    filterAlong: filter,
    filterAcross: filter,
  };
  writeRows(resampledRows(shape, sourceRowsOf(data, sourceColumns)), out, columns, rows);
  const pitch = asked.pitchMm === undefined ? undefined : pitchOf(asked);
  return plane("luminance", out, rows, columns, pitch);
}

function checkWindow(
  { left, top, width, height }: SourceWindow,
  source: { columns: number; rows: number },
): void {
  const within = (from: number, length: number, whole: number): boolean =>
    from >= -1e-9 * whole && length > 0 && from + length <= whole * (1 + 1e-9);
  if (within(left, width, source.columns) && within(top, height, source.rows)) return;
  const allowed = `a part of its ${source.columns} × ${source.rows} pixels`;
  const got = `${width} × ${height} from ${left}, ${top}`;
  throw invalidOption("window", `window takes ${allowed}; got ${got}.`, { allowed });
}

function checkPixels(columns: number, rows: number): void {
  if (columns * rows <= MAX_PIXELS) return;
  throw new SpotpitchError(
    "OPTION_TOO_LARGE",
    `${columns} × ${rows} pixels are more than ${MAX_PIXELS / 1e6} million. Ask for a smaller size or a larger pitch.`,
  );
}

function wholeOption(option: string, value: unknown): number {
  const number = numberOption(option, value, 1, MAX_PIXELS);
  if (Number.isInteger(number)) return number;
  throw invalidOption(option, `${option} takes a whole number; got ${number}.`);
}

function oneOf<Name extends string>(option: string, value: unknown, names: readonly Name[]): Name {
  const found = names.find((name) => name === value);
  if (found !== undefined) return found;
  const allowed = names.join(", ");
  const message = `${option} takes one of ${allowed}; got ${String(value)}.`;
  throw invalidOption(option, message, { received: value, allowed });
}
