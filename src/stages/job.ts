import type { HalftoneMethod } from "../4-halftone/method.js";
import { type ErrorDetails, SpotpitchError } from "../core/errors.js";
import type { MaterialData } from "../core/material/material.js";
import type { ResponsePoints } from "../core/material/response.js";
import type { Pitch } from "../core/plane.js";
import { refusal } from "../core/refusals/refusals.js";
import type { Spot } from "../core/spot.js";
import { type PrepareOptions, type ResolvedOptions, resolveOptions } from "../options/options.js";
import { fittingMethod } from "../pipeline/burn/choose-method.js";

/** The pitch of the pixels. */
export interface GridOptions {
  /**
   * Distance from pixel to pixel along a line and from line to line, 0.005 to 1.27 mm each; one number for both. Default: the
   * pitch of the picture, if it is a plane with a pitch.
   */
  readonly pitchMm?: number | Pitch | undefined;
}

/** Grid, spot and motion, which determine where dose goes. Names, limits and defaults are those of `PrepareOptions`. */
export interface BeamOptions extends GridOptions {
  /** 1/e² diameter of the spot, 0.005 to 5 mm; one number, or one along and one across the lines. Default 0.1. */
  readonly spotMm?: number | Spot | undefined;
  /** Power levels of a pixel, 2 (on and off) to 256. Default 2. */
  readonly levels?: number | undefined;
  /** Scan speed, up to 20000 mm/s; only firing lag and firing loss depend on it. Default 300. */
  readonly speedMmPerS?: number | undefined;
  /** Time constant of the source, 0 to 10000 µs. Default 0. */
  readonly firingLagUs?: number | undefined;
  /** Time by which the source starts later than it stops, −200 to 200 µs; every burst loses it. Default 0. */
  readonly firingLossUs?: number | undefined;
  /** Shift of odd lines along the line, −1 to 1 mm. Default 0. */
  readonly lineShiftMm?: number | undefined;
  /** Whether all lines are burned in the same direction. Default false. */
  readonly oneWay?: boolean | undefined;
}

/** The response of the surface to dose: give one of the two. */
export interface SurfaceOptions {
  /** A preset's name, the content of a material file, or the result of `findMaterial`. Default `maple`. */
  readonly material?: string | MaterialData | undefined;
  /** Two or more [dose, luminance factor], doses rising from 0, factors 0 to 1 and monotone. A solid fill is dose 1. */
  readonly response?: ResponsePoints | undefined;
}

/** What a halftone depends on, besides the picture. */
export interface HalftoneOptions extends BeamOptions, SurfaceOptions {
  /** A method's name, one of `halftoneMethods`. */
  readonly method: string;
  /** `serpentine` (default) scans every other line backwards, `raster` all lines the same way. */
  readonly scan?: "serpentine" | "raster" | undefined;
  /** For methods that draw random numbers, 0 to 4294967295. Default 1. */
  readonly seed?: number | undefined;
  /** Clustered dots: lines of dots per inch, 5 to 2000. Default: a period of 2 spots, on a steep material 2.5, in between near the border of the two. */
  readonly screenLinesPerInch?: number | undefined;
  /** Clustered dots: angle of the screen to the scan lines, −90 to 90 degrees. Default 45. */
  readonly screenAngleDeg?: number | undefined;
  /** Green noise: how strongly dots clump, 0 to 2. Default 1. */
  readonly clumping?: number | undefined;
}

export const BEAM = [
  "pitchMm",
  "spotMm",
  "levels",
  "speedMmPerS",
  "firingLagUs",
  "firingLossUs",
  "lineShiftMm",
  "oneWay",
] as const;
export const SURFACE = ["material", "response"] as const;
export const HALFTONE = [
  ...BEAM,
  ...SURFACE,
  "method",
  "scan",
  "seed",
  "screenLinesPerInch",
  "screenAngleDeg",
  "clumping",
] as const;

/** Options of stages that `prepare` does not have. */
const OWN = ["pitchMm", "response", "out", "curve", "dose", "photoPxPerMm", "opacity", "behind", "threads"];

/** Limits of `linesPerInch`, 5080 and 20, as a pitch. */
const MIN_PITCH_MM = 0.005;
const MAX_PITCH_MM = 1.27;

/**
 * A stage's options in the form of the inner code, checked and filled in like those of `prepare`. Throws `OPTION_UNKNOWN` for an
 * option that the stage does not take, `OPTION_INVALID` for a value out of range or a missing pitch, and what `findMaterial`
 * and `resolveMaterial` throw.
 *
 * @param takes names of the stage's options
 * @param own pitch of the picture
 */
export function resolveJob(options: object, takes: readonly string[], own?: Pitch): ResolvedOptions {
  const asked = knownOptions(options, takes);
  const pitch = pitchOf(asked, own);
  const shared = Object.entries(asked).filter(([name]) => !OWN.includes(name));
  const resolved = resolveOptions({ ...Object.fromEntries(shared), ...surfaceOf(asked) });
  return Object.freeze({ ...resolved, pitch });
}

/** The method of a stage's options. Throws what `fittingMethod` throws, and `OPTION_INVALID` for none or `auto`. */
export function methodOf(options: { readonly method?: unknown }, job: ResolvedOptions): HalftoneMethod {
  if (options.method !== undefined && job.method !== "auto") {
    const method = fittingMethod(job.method, job);
    if (!method.searches) return method;
    throw refusal("method-searches", { method: method.id, instead: "stage" }, { received: method.id });
  }
  const message = "method takes the name of one halftone method here; only prepare tries several (auto).";
  throw invalidOption("method", message, { received: options.method });
}

/** Throws `OPTION_UNKNOWN`, `OPTION_INVALID`. */
export function knownOptions(options: object, takes: readonly string[]): Readonly<Record<string, unknown>> {
  if (typeof options !== "object" || options === null) {
    throw invalidOption("options", "options takes an object.");
  }
  const asked: Record<string, unknown> = {};
  for (const [name, value] of Object.entries(options)) {
    if (!takes.includes(name)) {
      const allowed = takes.join(", ");
      const message = `There is no option ${name} here; this stage takes ${allowed}.`;
      throw new SpotpitchError("OPTION_UNKNOWN", message, { option: name, allowed });
    }
    if (value !== undefined) asked[name] = value;
  }
  return asked;
}

/** Throws `OPTION_INVALID` if neither the options nor the picture have a usable pitch. */
export function pitchOf(asked: Readonly<Record<string, unknown>>, own?: Pitch): Pitch {
  const given = asked.pitchMm ?? own;
  if (given === undefined) {
    throw invalidOption("pitchMm", "pitchMm is missing, and the picture has no pitch either.");
  }
  const { alongMm, acrossMm } =
    typeof given === "number" ? { alongMm: given, acrossMm: given } : (given as Partial<Pitch>);
  return Object.freeze({
    alongMm: numberOption("pitchMm", alongMm, MIN_PITCH_MM, MAX_PITCH_MM),
    acrossMm: numberOption("pitchMm", acrossMm, MIN_PITCH_MM, MAX_PITCH_MM),
  });
}

/** The error for an option or argument that cannot be used. @param message a whole sentence */
export function invalidOption(
  option: string,
  message: string,
  details: Pick<ErrorDetails, "received" | "allowed"> = {},
): SpotpitchError {
  return new SpotpitchError("OPTION_INVALID", message, { ...details, option });
}

/** A number within limits, both included. Throws `OPTION_INVALID`. */
export function numberOption(option: string, value: unknown, min: number, max: number): number {
  if (typeof value === "number" && value >= min && value <= max) return value;
  const allowed = `${min} to ${max}`;
  throw invalidOption(option, `${option} takes ${allowed}; got ${String(value)}.`, {
    received: value,
    allowed,
  });
}

function surfaceOf({
  material,
  response,
}: Readonly<Record<string, unknown>>): Pick<PrepareOptions, "material"> {
  if (response !== undefined) {
    if (material !== undefined) {
      const message = "material and response both say what the surface does: give one.";
      throw new SpotpitchError("OPTION_CONFLICT", message, { option: "response" });
    }
    const looks = { bareColor: "#ffffff", markedColor: "#000000" };
    return { material: { name: "response", response, ...looks, source: "given as a response" } };
  }
  if (material === undefined) return {};
  return { material: typeof material === "object" ? materialData({ ...material }) : (material as string) };
}

/** A resolved material without the values that are derived from its data. */
function materialData({
  curve,
  toneRange,
  shape,
  doubts,
  ...data
}: Record<string, unknown>): Record<string, unknown> {
  return data;
}
