import { inspect } from "node:util";
import * as z from "zod";
import type { SpotpitchError } from "../errors.js";
import { monotoneCubic } from "../monotone-cubic.js";
import { hyphenated } from "../nearest-name.js";
import { lightnessFromLuminance, luminanceFromLightness } from "../physics/lightness.js";
import { refusal } from "../refusals/refusals.js";
import { hazardsNotNamed } from "./cautions.js";
import { findForbiddenMaterial } from "./forbidden-materials.js";
import { type MaterialDoubt, materialDoubts } from "./material-doubts.js";
import { materialPresets } from "./material-presets.js";
import { createResponse, type Response, type ResponsePoints } from "./response.js";

/** The content of a material file. */
export interface MaterialData {
  readonly name: string;
  /** [dose, luminance factor]: doses 0 or more and rising; luminance factors 0..1, all falling or all rising. */
  readonly response: ResponsePoints;
  /** `#rrggbb`, for the preview only. */
  readonly bareColor: string;
  readonly markedColor: string;
  /** Pitch at which the response was measured. */
  readonly referencePitchMm?: number | undefined;
  /** Dose from which the surface chars, if it is known. */
  readonly charDose?: number | undefined;
  /**
   * How the doses of neighbouring lines combine where the surface cools between them, 1 to 4: dose = (Σ dose^q)^(1/q). Default 1:
   * they add up.
   */
  readonly lineExponent?: number | undefined;
  readonly source: string;
  readonly hazards?: readonly string[] | undefined;
}

/** A checked material with its response curve. */
export interface Material extends MaterialData {
  readonly curve: Response;
  /**
   * `steep` if nearly all of the change in L* lies within a narrow range of dose (a coating that is stripped),
   * `gradual` if it spreads (wood that browns steadily).
   */
  readonly shape: "steep" | "gradual";
  /** Hazards of the material, or a sentence that none are named. */
  readonly hazards: readonly string[];
  /** What is allowed but probably a mistake. */
  readonly doubts: readonly MaterialDoubt[];
}

const colourWords = "a colour such as #e3c9a0";
const hexColor = z.string(colourWords).regex(/^#[0-9a-f]{6}$/i, colourWords);

const text = (words: string) => z.string(words).min(1, words);
const rows = "two or more rows of [dose, luminance factor]";
const pitchWords = "a pitch in mm, above 0";
const charWords = "the dose from which the surface chars, above 0 (a solid fill is 1)";
const exponentWords = "the exponent by which lines combine, 1 (they add up) to 4";

/** The message of each field says what it must be. */
const materialSchema = z.strictObject({
  name: text("a name"),
  response: z.array(z.tuple([z.number(), z.number()]), rows).min(2, rows),
  bareColor: hexColor,
  markedColor: hexColor,
  referencePitchMm: z.number(pitchWords).positive(pitchWords).optional(),
  charDose: z.number(charWords).positive(charWords).optional(),
  lineExponent: z.number(exponentWords).min(1, exponentWords).max(4, exponentWords).optional(),
  source: text("a note on where the figures come from"),
  hazards: z.array(z.string("a list of sentences"), "a list of sentences").optional(),
});

/**
 * The preset with this name or alias. A material that must not be processed is refused, with the reason.
 * Throws `OPTION_MATERIAL_FORBIDDEN`, `OPTION_MATERIAL_UNKNOWN`.
 */
export function findMaterial(name: string): Material {
  refuseForbidden(name);
  const wanted = hyphenated(name);
  const preset = materialPresets.find(
    ({ id, aliases }) => id === wanted || aliases?.some((alias) => hyphenated(alias) === wanted),
  );
  if (preset) return withCurve({ ...preset, name: preset.id });
  const known = materialPresets.flatMap(({ id, aliases = [] }) => [id, ...aliases]);
  throw refusal(
    "material-unknown",
    { material: name, known },
    { received: name, allowed: materialPresets.map(({ id }) => id).join(", ") },
  );
}

/**
 * Check a material file's content. Throws `INPUT_MATERIAL_INVALID` naming the offending field or row, or
 * `OPTION_MATERIAL_FORBIDDEN` if its name is that of a material that must not be processed.
 */
export function resolveMaterial(data: unknown): Material {
  const parsed = materialSchema.safeParse(data);
  if (!parsed.success) throw faultOf(parsed.error.issues[0], data);
  refuseForbidden(parsed.data.name);
  checkResponse(parsed.data.response);
  return withCurve(parsed.data);
}

function faultOf(issue: z.core.$ZodIssue, data: unknown): SpotpitchError {
  const [field, row] = issue.path;
  if (issue.code === "unrecognized_keys") {
    return refusal("material-unknown-field", {
      field: issue.keys[0],
      known: Object.keys(materialSchema.shape),
    });
  }
  if (field === undefined) return refusal("material-not-an-object", {});
  if (field === "response" && row !== undefined) {
    return refusal("material-wrong-row", { row: Number(row) + 1 });
  }
  const received = (data as Record<PropertyKey, unknown>)[field];
  const fault = { field: String(field), wanted: issue.message };
  return received === undefined
    ? refusal("material-missing-field", fault)
    : refusal("material-wrong-field", { ...fault, got: inspect(received) });
}

function withCurve(data: MaterialData): Material {
  return Object.freeze({
    name: data.name,
    response: data.response,
    bareColor: data.bareColor,
    markedColor: data.markedColor,
    source: data.source,
    ...(data.referencePitchMm === undefined ? {} : { referencePitchMm: data.referencePitchMm }),
    ...(data.charDose === undefined ? {} : { charDose: data.charDose }),
    ...(data.lineExponent === undefined ? {} : { lineExponent: data.lineExponent }),
    hazards: data.hazards?.length ? data.hazards : [hazardsNotNamed(data.name)],
    doubts: materialDoubts(data),
    curve: createResponse(data.response),
    shape: shapeOf(data.response),
  });
}

function checkResponse(points: ResponsePoints): void {
  let direction = 0;
  points.forEach(([dose, luminance], index) => {
    const at = { row: index + 1, dose, luminance };
    if (!(dose >= 0)) throw refusal("material-negative-dose", at);
    if (!(luminance >= 0 && luminance <= 1)) throw refusal("material-wrong-luminance", at);
    if (index === 0) return;
    const [doseBefore, luminanceBefore] = points[index - 1];
    if (!(dose > doseBefore)) throw refusal("material-falling-doses", { ...at, before: doseBefore });
    const step = Math.sign(luminance - luminanceBefore);
    if (step !== 0 && direction !== 0 && step !== direction) throw refusal("material-turning", at);
    if (step !== 0) direction = step;
  });
  if (direction === 0) throw refusal("material-never-changes", {});
}

/** Largest range of dose, relative to the mid-tone's dose, that counts as steep. */
const STEEP_RANGE = 1;

function shapeOf(points: ResponsePoints): "steep" | "gradual" {
  const doseAt = (share: number): number => doseAtLightnessShare(points, share);
  return (doseAt(0.9) - doseAt(0.1)) / doseAt(0.5) < STEEP_RANGE ? "steep" : "gradual";
}

/** Dose that gives a share of the whole change in L*, by bisection. */
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
  throw refusal(
    "material-forbidden",
    { material: name, why: `${forbidden.reason} ${forbidden.hazard}` },
    { received: name },
  );
}
