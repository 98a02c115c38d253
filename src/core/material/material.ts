import { inspect } from "node:util";
import * as z from "zod";
import type { SpotpitchError } from "../errors.js";
import { hyphenated, nearestNames } from "../nearest-name.js";
import { refusal } from "../refusals/refusals.js";
import { hazardsNotNamed } from "./cautions.js";
import { checkRange, checkRows } from "./check-response.js";
import { type DoseUnit, doseUnits, inSolidFills, solidDoseIn } from "./dose-unit.js";
import { findForbiddenMaterial } from "./forbidden-materials.js";
import { type MaterialDoubt, materialDoubts } from "./material-doubts.js";
import { materialPresets } from "./material-presets.js";
import { createResponse, type Response, type ResponsePoints } from "./response.js";
import { MAX_PITCH_OVER_SPOT, solveResponse } from "./solve-response.js";
import { shapeOf, toneRangeOf } from "./tone-range.js";

/** The content of a material file. */
export interface MaterialData {
  readonly name: string;
  /**
   * [dose, luminance factor] of solid fills: doses 0 or more and rising; luminance factors 0..1, all falling or all rising. If
   * pitch and spot of the fills are named, the response of the surface is solved for, so that simulated fills reproduce this
   * table. Otherwise this is the response itself.
   */
  readonly response: ResponsePoints;
  /** What doses count in: `solid`, the default, if a solid fill is dose 1; `percent` if it is dose 100. */
  readonly doseUnit?: DoseUnit | undefined;
  /** `#rrggbb`, for the preview only. */
  readonly bareColor: string;
  readonly markedColor: string;
  /** Pitch of the solid fills that were measured. */
  readonly referencePitchMm?: number | undefined;
  /** 1/e² diameter of the spot that burned them; only the one across the lines counts. */
  readonly referenceSpotMm?: number | { readonly alongMm: number; readonly acrossMm: number } | undefined;
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

/** A checked material with its response curve. A solid fill has dose 1. */
export interface Material extends Omit<MaterialData, "doseUnit"> {
  /** What a dose does to a point of the surface, without the ripple of the fills that were measured. */
  readonly curve: Response;
  /** Range of dose over which the tone changes: (dose at 90 % of the change in L* − dose at 10 %) / dose at 50 %. */
  readonly toneRange: number;
  /** `steep` for a tone range under 1 (a coating that is stripped), else `gradual` (wood that browns steadily). */
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
/** Larger values are in other units, or densities. */
const MAX_PITCH_MM = 10;
const MAX_SPOT_MM = 5;
const pitchWords = `a pitch in mm, above 0 and no more than ${MAX_PITCH_MM}`;
const spotWords = `a spot diameter in mm, above 0 and no more than ${MAX_SPOT_MM}, or {alongMm, acrossMm}`;
const charWords = "the dose from which the surface chars, above 0";
const unitWords = '"solid" (a solid fill has dose 1) or "percent" (it has dose 100)';
const exponentWords = "the exponent by which lines combine, 1 (they add up) to 4";

const diameter = z.number(spotWords).positive(spotWords).max(MAX_SPOT_MM, spotWords);

/** The message of each field says what it must be. */
const materialSchema = z.strictObject({
  name: text("a name"),
  response: z.array(z.tuple([z.number(), z.number()]), rows).min(2, rows),
  doseUnit: z.enum(doseUnits, unitWords).optional(),
  bareColor: hexColor,
  markedColor: hexColor,
  referencePitchMm: z.number(pitchWords).positive(pitchWords).max(MAX_PITCH_MM, pitchWords).optional(),
  referenceSpotMm: z
    .union([diameter, z.strictObject({ alongMm: diameter, acrossMm: diameter })], spotWords)
    .optional(),
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
  const names = nearestNames(name, known);
  // A list shows the presets and not their other names.
  const near = materialPresets
    .filter(({ id, aliases = [] }) => [id, ...aliases].some((each) => names.includes(each)))
    .map(({ id }) => id);
  throw refusal(
    "material-unknown",
    { material: name, near },
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
  checkRows(parsed.data.response);
  const dosed = inSolidFills(parsed.data);
  checkRange(dosed.response, solidDoseIn(parsed.data));
  checkFills(dosed);
  return withCurve(dosed);
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

function withCurve(data: Omit<MaterialData, "doseUnit">): Material {
  const pitchOverSpot = fillPitchOverSpot(data);
  const solved =
    pitchOverSpot === undefined ? undefined : solveResponse(data.response, pitchOverSpot, data.lineExponent);
  const points = solved?.points ?? data.response;
  const toneRange = toneRangeOf(points);
  return Object.freeze({
    name: data.name,
    response: data.response,
    bareColor: data.bareColor,
    markedColor: data.markedColor,
    source: data.source,
    ...given(data, ["referencePitchMm", "referenceSpotMm", "charDose", "lineExponent"]),
    hazards: data.hazards?.length ? data.hazards : [hazardsNotNamed(data.name)],
    doubts: materialDoubts(data, solved?.departure),
    curve: createResponse(points),
    toneRange,
    shape: shapeOf(toneRange),
  });
}

/** Only those of the fields that have a value. */
function given<Field extends keyof MaterialData>(
  data: MaterialData,
  fields: readonly Field[],
): Partial<Pick<MaterialData, Field>> {
  const entries = fields.filter((field) => data[field] !== undefined).map((field) => [field, data[field]]);
  return Object.fromEntries(entries) as Partial<Pick<MaterialData, Field>>;
}

/** Pitch over spot of the fills, across their lines; undefined if the material does not name both. */
function fillPitchOverSpot({ referencePitchMm, referenceSpotMm }: MaterialData): number | undefined {
  if (referencePitchMm === undefined || referenceSpotMm === undefined) return undefined;
  return (
    referencePitchMm / (typeof referenceSpotMm === "number" ? referenceSpotMm : referenceSpotMm.acrossMm)
  );
}

/** Largest table for which a response is solved for: far beyond what anybody measures. */
const MAX_SOLVED_ROWS = 64;

/** Refuses fills that no response can be solved from in reasonable time. */
function checkFills(data: MaterialData): void {
  const { referenceSpotMm, response } = data;
  const pitchOverSpot = fillPitchOverSpot(data);
  if (pitchOverSpot === undefined) return;
  if (pitchOverSpot > MAX_PITCH_OVER_SPOT) {
    const wanted = `referencePitchMm / ${MAX_PITCH_OVER_SPOT} or more`;
    throw refusal("material-wrong-field", {
      field: "referenceSpotMm",
      wanted,
      got: inspect(referenceSpotMm),
    });
  }
  if (response.length > MAX_SOLVED_ROWS) {
    const wanted = `no more than ${MAX_SOLVED_ROWS} rows if referenceSpotMm is given`;
    throw refusal("material-wrong-field", { field: "response", wanted, got: `${response.length} rows` });
  }
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
