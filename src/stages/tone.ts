import { AS_IS, automaticRange } from "../2-tone/input-range.js";
import { addLocalContrast as addToRow, SURROUNDINGS_PX, surroundingsOf } from "../2-tone/local-contrast.js";
import { sharpenedRows } from "../2-tone/sharpen.js";
import { toneTable } from "../2-tone/tone-table.js";
import { resample as resampleWhole } from "../3-resample/resample.js";
import { createKernelMemory } from "../core/kernel-memory.js";
import { denseData, type Plane, plane } from "../core/plane.js";
import type { Spot } from "../core/spot.js";
import { adjustmentsOf } from "../pipeline/photo/luminance.js";
import { type GridOptions, numberOption, resolveJob } from "./job.js";
import {
  checkSameSize,
  ENCODED,
  LUMINANCE,
  OPACITY,
  outputFor,
  type Picture,
  readPicture,
} from "./picture.js";
import { inMemory, writeRows } from "./rows.js";

/** Options of `adjustTones`. Names, limits and defaults are those of `PrepareOptions`. */
export interface ToneOptions {
  /** [rows, columns] 0..65535, as `decodePhoto` gives it; transparent parts do not count for the levels. */
  readonly opacity?: Picture<"opacity", Uint16Array> | undefined;
  /** Linear luminance behind transparent parts, 0 to 1. Default 1. */
  readonly behind?: number | undefined;
  /** Stretch the photo's own range to 0..1. Default true. */
  readonly autoTone?: boolean | undefined;
  /** Share of the pixels that `autoTone` may clip at each end, 0 to 10 %. Default 0.1. */
  readonly clipPercent?: number | undefined;
  /** Added to L*, −100 to 100. Default 0. */
  readonly brightness?: number | undefined;
  /** Slope about L* 50, −100 (half) to 100 (double). Default 0. */
  readonly contrast?: number | undefined;
  /** Exponent 1/gamma on the lightness L*, as a share of 100, 0.1 to 10. Default 1. */
  readonly gamma?: number | undefined;
  /** Swap light and dark: L* becomes 100 − L*. Default false. */
  readonly negative?: boolean | undefined;
  /** [rows × columns] Array for the result. */
  readonly out?: Float32Array | undefined;
}

const ADJUSTMENTS = ["autoTone", "clipPercent", "brightness", "contrast", "gamma", "negative"] as const;
const TONE = [...ADJUSTMENTS, "opacity", "behind", "out"] as const;
/** Tone adjustments do not depend on the grid. */
const ANY_PITCH = { alongMm: 1, acrossMm: 1 };

/**
 * Convert a photo's sRGB-encoded luminance to linear luminance 0..1 of the same shape, with the user's adjustments: levels on
 * linear light (what the camera saw), then gamma, contrast and brightness on L* (CIE 15, 2004).
 *
 * @param photo [rows, columns] 0..65535; not modified
 * @throws SpotpitchError `OPTION_INVALID`, `OPTION_UNKNOWN`
 */
export function adjustTones(
  photo: Picture<"encoded-luminance", Uint16Array>,
  options: ToneOptions = {},
): Plane<"luminance"> {
  const { data, columns, rows, pitch } = readPicture("photo", photo, ENCODED);
  const adjust = adjustmentsOf(resolveJob(options, TONE, ANY_PITCH));
  const { opacity: asked, behind = 1, out } = options;
  const opacity = asked && readPicture("opacity", asked, OPACITY);
  numberOption("behind", behind, 0, 1);
  if (opacity) checkSameSize(["photo", "opacity"], { columns, rows }, opacity);
  const levels = adjust.autoLevels ? automaticRange(data, opacity?.data, adjust.clipPercent) : AS_IS;
  const table = toneTable(levels, adjust);
  const luminance = outputFor(out, data.length, Float32Array, opacity ? [{ data }, opacity] : [{ data }]);
  for (let i = 0; i < data.length; i++) luminance[i] = table[data[i]];
  if (opacity) layOver(luminance, opacity.data, behind);
  return plane("luminance", luminance, rows, columns, pitch);
}

function layOver(luminance: Float32Array, opacity: Uint16Array, behind: number): void {
  for (let i = 0; i < luminance.length; i++) {
    luminance[i] = behind + ((luminance[i] - behind) * opacity[i]) / 65535;
  }
}

/** Options of `addLocalContrast`. */
export interface LocalContrastOptions {
  /** How much of each point's difference in L* from its surroundings is added, 0 to 2. */
  readonly localContrast: number;
  /** [rows × columns] Array for the result. */
  readonly out?: Float32Array | undefined;
}

/**
 * Local contrast: each point's L* moves away from the mean L* of its surroundings (unsharp masking with a wide mask: three box
 * blurs, W. M. Wells, "Efficient synthesis of Gaussian filters by cascaded uniform filters", IEEE Trans. PAMI, 1986). The
 * surroundings reach over 4 % of the longer side.
 *
 * @param luminance [rows, columns] linear, 0..1; not modified
 * @throws SpotpitchError `OPTION_INVALID`, `OPTION_UNKNOWN`
 */
export function addLocalContrast(
  luminance: Picture<"luminance">,
  options: LocalContrastOptions,
): Plane<"luminance"> {
  const source = readPicture("luminance", luminance, LUMINANCE);
  const { columns, rows, data, pitch } = source;
  const { localContrast } = resolveJob(options, ["localContrast", "out"], ANY_PITCH);
  const out = outputFor(options.out, data.length, Float32Array, [source]);
  const scale = Math.min(1, SURROUNDINGS_PX / Math.max(columns, rows));
  const small = [columns, rows].map((side) => Math.max(1, Math.round(side * scale)));
  const window = { left: 0, top: 0, width: columns, height: rows };
  const reduced = resampleWhole(plane("luminance", data, rows, columns), window, small[0], small[1]);
  const surroundings = surroundingsOf(denseData(reduced), small[0], small[1]);
  out.set(data);
  for (let y = 0; y < rows; y++) {
    addToRow(out.subarray(y * columns, (y + 1) * columns), y, rows, surroundings, localContrast);
  }
  return plane("luminance", out, rows, columns, pitch);
}

/** Options of `sharpenForSpot`. */
export interface SharpenOptions extends GridOptions {
  /** 1/e² diameter of the spot, 0.005 to 5 mm; one number, or one along and one across the lines. Default 0.1. */
  readonly spotMm?: number | Spot | undefined;
  /** Share of the spot's blur to compensate, 0 to 2; 1 undoes it to first order. */
  readonly sharpen: number;
  /** [rows × columns] Array for the result. */
  readonly out?: Float32Array | undefined;
}

/**
 * Compensate the blur of the spot in advance: unsharp masking with the Gaussian spot as the mask, Y + sharpen·(Y − B·Y), limited
 * to 0..1. Ours.
 *
 * @param luminance [rows, columns] linear, 0..1, on the engraving grid; not modified
 * @throws SpotpitchError `OPTION_INVALID`, `OPTION_UNKNOWN`
 */
export function sharpenForSpot(luminance: Picture<"luminance">, options: SharpenOptions): Plane<"luminance"> {
  const source = readPicture("luminance", luminance, LUMINANCE);
  const { columns, rows } = source;
  const takes = ["pitchMm", "spotMm", "sharpen", "out"];
  const { pitch, spot, sharpen } = resolveJob(options, takes, source.pitch);
  const out = outputFor(options.out, columns * rows, Float32Array, [source]);
  const memory = createKernelMemory();
  const rowsIn = inMemory(memory, source);
  writeRows(sharpenedRows(rowsIn, { columns, rows, pitch, spot }, sharpen, memory), out, columns, rows);
  return plane("luminance", out, rows, columns, pitch);
}
