import { z } from "zod";
import { SpotpitchError } from "./errors.js";
import { findForbiddenMaterial } from "./forbidden-materials.js";
import { lightnessFromLuminance, luminanceFromLightness } from "./lightness.js";
import { type MaterialPreset, materialPresets } from "./material-presets.js";
import { monotoneCubic } from "./monotone-cubic.js";
import { createResponse, type Response, type ResponsePoints } from "./response.js";

/** A material as a user writes it down (the material file). */
export interface MaterialData {
  readonly name: string;
  /** [dose, luminance factor]: doses 0 or more and rising, luminance factors 0..1, falling or rising throughout. */
  readonly response: ResponsePoints;
  /** `#rrggbb`, for the preview only. */
  readonly bareColor: string;
  readonly markedColor: string;
  /** Density that the response was measured at, as a pitch. */
  readonly referencePitchMm?: number | undefined;
  readonly source: string;
  readonly hazards?: readonly string[] | undefined;
}

/** A material ready for work. */
export interface Material extends MaterialData {
  readonly curve: Response;
  /**
   * `steep` where nearly all of the change in L* falls within a narrow range of dose (a coating: there, then gone),
   * `gradual` where it spreads (wood browns steadily).
   */
  readonly shape: "steep" | "gradual";
  readonly hazards: readonly string[];
}

const hexColor = z.string().regex(/^#[0-9a-f]{6}$/i, "a colour such as #e3c9a0");

const materialSchema = z.strictObject({
  name: z.string().min(1),
  response: z.array(z.tuple([z.number(), z.number()])).min(2, "two or more [dose, luminance factor] rows"),
  bareColor: hexColor,
  markedColor: hexColor,
  referencePitchMm: z.number().positive().optional(),
  source: z.string().min(1),
  hazards: z.array(z.string()).optional(),
});

/**
 * The material of a preset's name or alias. A material that must not be processed is refused with the reason.
 * Throws `OPTION_MATERIAL_FORBIDDEN`, `OPTION_MATERIAL_UNKNOWN`.
 */
export function findMaterial(name: string): Material {
  refuseForbidden(name);
  const wanted = normalised(name);
  const preset = materialPresets.find(
    ({ id, aliases }) => id === wanted || aliases?.some((alias) => normalised(alias) === wanted),
  );
  if (preset) return presetMaterial(preset);
  const allowed = materialPresets.map(({ id }) => id).join(", ");
  throw new SpotpitchError(
    "OPTION_MATERIAL_UNKNOWN",
    `material "${name}" is not a preset; take one of ${allowed}, or give a material file (….json).`,
    { option: "material", received: name, allowed },
  );
}

/**
 * Check a material file's content. Throws `INPUT_MATERIAL_INVALID` naming the offending field or row, or
 * `OPTION_MATERIAL_FORBIDDEN` where its name is that of a material that must not be processed.
 */
export function resolveMaterial(data: unknown): Material {
  const parsed = materialSchema.safeParse(data);
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    const field = issue.path.length > 0 ? issue.path.join(".") : "the file";
    throw invalidMaterial(`${field}: ${issue.message}`);
  }
  refuseForbidden(parsed.data.name);
  checkResponse(parsed.data.response);
  return withCurve(parsed.data);
}

function presetMaterial(preset: MaterialPreset): Material {
  return withCurve({ ...preset, name: preset.id });
}

function withCurve(data: MaterialData): Material {
  return Object.freeze({
    name: data.name,
    response: data.response,
    bareColor: data.bareColor,
    markedColor: data.markedColor,
    source: data.source,
    ...(data.referencePitchMm === undefined ? {} : { referencePitchMm: data.referencePitchMm }),
    hazards: data.hazards ?? [],
    curve: createResponse(data.response),
    shape: shapeOf(data.response),
  });
}

function checkResponse(points: ResponsePoints): void {
  let direction = 0;
  points.forEach(([dose, luminance], row) => {
    const at = `response row ${row + 1}, [${dose}, ${luminance}]`;
    if (!(dose >= 0)) throw invalidMaterial(`${at}: a dose is 0 or more`);
    if (!(luminance >= 0 && luminance <= 1))
      throw invalidMaterial(`${at}: a luminance factor lies within 0..1`);
    if (row === 0) return;
    const [doseBefore, luminanceBefore] = points[row - 1];
    if (!(dose > doseBefore))
      throw invalidMaterial(`${at}: doses must rise, and the row before has ${doseBefore}`);
    const step = Math.sign(luminance - luminanceBefore);
    if (step !== 0 && direction !== 0 && step !== direction) {
      throw invalidMaterial(`${at}: luminance factors must all fall or all rise, and here they turn`);
    }
    if (step !== 0) direction = step;
  });
  if (direction === 0)
    throw invalidMaterial("response: the surface never changes, so nothing can be engraved");
}

/** Widest range of dose, relative to the mid-tone's dose, that still counts as steep. */
const STEEP_RANGE = 1;

function shapeOf(points: ResponsePoints): "steep" | "gradual" {
  const doseAt = (share: number): number => doseAtLightnessShare(points, share);
  return (doseAt(0.9) - doseAt(0.1)) / doseAt(0.5) < STEEP_RANGE ? "steep" : "gradual";
}

/** Dose at which a share of the whole change in L* is reached, by bisection. */
export function doseAtLightnessShare(points: ResponsePoints, share: number): number {
  const curve = monotoneCubic(
    points.map(([dose]) => dose),
    points.map(([, luminance]) => luminance),
  );
  const first = points[0];
  const last = points[points.length - 1];
  const bare = lightnessFromLuminance(first[1]);
  const end = lightnessFromLuminance(last[1]);
  const wanted = luminanceFromLightness(bare + share * (end - bare));
  const sign = Math.sign(last[1] - first[1]);
  let [low, high] = [0, last[0]];
  for (let i = 0; i < 50; i++) {
    const middle = (low + high) / 2;
    if (sign * (curve(middle) - wanted) < 0) low = middle;
    else high = middle;
  }
  return high;
}

function refuseForbidden(name: string): void {
  const forbidden = findForbiddenMaterial(name);
  if (!forbidden) return;
  throw new SpotpitchError(
    "OPTION_MATERIAL_FORBIDDEN",
    `material "${name}" must not be processed: ${forbidden.reason} ${forbidden.hazard}`,
    { option: "material", received: name },
  );
}

function invalidMaterial(detail: string): SpotpitchError {
  return new SpotpitchError("INPUT_MATERIAL_INVALID", `The material file cannot be used: ${detail}.`, {
    option: "material",
  });
}

const normalised = (name: string): string =>
  name
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, "-");
