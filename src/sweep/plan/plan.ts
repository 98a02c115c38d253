import type { Plan, PlannedLens, PlanRow } from "../../6-report/plan.js";
import { sayChange } from "../../6-report/words/plan-changes.js";
import { sayNote } from "../../6-report/words/plan-notes.js";
import { sayReason } from "../../6-report/words/plan-reasons.js";
import { MAX_LINES_PER_INCH, MIN_LINES_PER_INCH } from "../../core/density-limits.js";
import { generalCautions } from "../../core/material/cautions.js";
import { findMaterial, type Material, resolveMaterial } from "../../core/material/material.js";
import { densityLadder } from "../../core/physics/density-ladder.js";
import { libraryReader, type Reader } from "../../core/reader.js";
import { refusal } from "../../core/refusals/refusals.js";
import { doseSpreadOf, type Spread } from "../../core/spread.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { packageVersion } from "../../core/version.js";
import { type PrepareOptions, resolveOptions, resolveSpread } from "../../options/options.js";
import {
  type CheckedPlanOptions,
  checkPlanOptions,
  type PlanLens,
  type PlanOptions,
  planLenses,
  preparedPart,
  USUAL_STRIP_LINES_PER_INCH,
} from "../../options/plan-options.js";
import { fittingMethod } from "../../pipeline/burn/choose-method.js";
import { lineMarkMm, referencePitchMm } from "../../pipeline/describe/density-facts.js";
import { inLanes, type LaneContext, type LaneWork } from "../lanes.js";
import type { Candidates, Choice } from "./choice.js";
import { chooseLens } from "./choose-lens.js";
import { choosePhoto } from "./choose-photo.js";
import { chooseShade } from "./choose-shade.js";
import { chooseStrip, strippingLinesPerInch } from "./choose-strip.js";
import { comparedDetailMm } from "./held-tones.js";
import { generalNotes } from "./notes.js";
import { type RowRequest, type RowSource, rowsFrom } from "./plan-row.js";
import { wantedLightness } from "./solid-row.js";

/** Context of `plan` beside its options. */
export interface PlanContext extends LaneContext {
  /** Shown in messages; never opened. */
  readonly fileName?: string;
  /** Who reads the plan's sentences. Default: a programmer who calls the library. */
  readonly reader?: Reader;
  /** Called after each density with the number of finished densities and of all. */
  readonly onProgress?: (done: number, all: number) => void;
}

/** Side of the planned square if neither size nor photo is given, in mm. */
const DEFAULT_SIDE_MM = 100;

/**
 * Recommend the line density that is worth its machine time for this spot, material, size and kind of work.
 *
 *     options → lenses × densities → rows (as `prepare` would report them) → one recommended, with its reason
 *
 * @param photo the photo's bytes. Kind `photo` uses its tones and its run time; without a photo it uses a built-in picture. `strip`
 * and `shade` use only its shape
 * @throws SpotpitchError with an `OPTION_*` code for a bad option, `INPUT_*` for a photo that cannot be used
 */
export async function plan(
  options: PlanOptions = {},
  photo?: Uint8Array,
  context: PlanContext = {},
): Promise<Plan> {
  const checked = checkPlanOptions(options);
  if (!photo) refuseWithoutPhoto(checked);
  const lenses = planLenses(checked);
  const material =
    typeof checked.material === "string" ? findMaterial(checked.material) : resolveMaterial(checked.material);
  const { reader = libraryReader } = context;
  const requests = requestsFor(checked, lenses, material, photo !== undefined);
  refuseUnfit(requests);
  const rows = await planRows(requests, photo, context);
  const lightness = wantedLightness(material, checked.darkness);
  const choices = lenses.map((lens, index) =>
    choose(
      {
        ...{ lens, material, options: checked, spread: spreadIn(checked) },
        rows: rows.filter((row) => row.lens === index),
      },
      lightness,
    ),
  );
  const detailMm = checked.tones?.detailMm ?? comparedDetailMm(rows[0]);
  const best = chooseLens(lenses, choices, checked.kind, detailMm);
  const { row } = best;
  const against = rows.find(
    ({ lens, linesPerInch }) => lens === row.lens && Math.abs(linesPerInch - (checked.against ?? 0)) < 0.5,
  );
  const hasPhoto = photo !== undefined;
  const chosen = { material, options: checked, lens: lenses[row.lens], row, against, hasPhoto };
  const notes = [...best.notes, ...generalNotes(chosen)];
  const planned = lenses.map((lens) => plannedLens(lens, material));
  return {
    tool: { name: "spotpitch", version: packageVersion() },
    job: {
      kind: checked.kind,
      photo: context.fileName ?? "",
      ...plannedJob(checked, material, row, requests[0]),
      detailMm,
      limits: limitsOf(checked, lightness),
    },
    matchedLinesPerInch: planned[row.lens].matchedLinesPerInch,
    lenses: planned,
    rows,
    recommended: {
      linesPerInch: row.linesPerInch,
      row: rows.indexOf(row),
      meetsLimits: best.meetsLimits,
      reason: best.reasons.map((reason) => sayReason(reason, reader)).join(" "),
      whatWouldChangeIt: best.changes.map((change) => sayChange(change, reader)),
    },
    notes: notes.map((note) => ({ code: note.code, message: sayNote(note, reader) })),
    cautions: [...material.hazards, ...generalCautions],
  };
}

function requestsFor(
  checked: CheckedPlanOptions,
  lenses: readonly PlanLens[],
  material: Material,
  hasPhoto: boolean,
): RowRequest[] {
  const { kind, darkness, markMm } = checked;
  const shared = prepareOptionsOf(checked, hasPhoto);
  return lenses.flatMap((lens, index) =>
    densitiesFor(lens, material, checked).map((linesPerInch) => ({
      ...{ lens: index, kind, darkness, markMm },
      options: { ...shared, linesPerInch, spotMm: lens.spot },
    })),
  );
}

/** Refuse bad options before any work. */
function refuseUnfit(requests: readonly RowRequest[]): void {
  const resolved = requests.map(({ options }) => resolveOptions(options));
  for (const options of resolved) if (options.method !== "auto") fittingMethod(options.method, options);
}

/** The rows of a plan, in the order of the requests. */
async function planRows(
  requests: readonly RowRequest[],
  bytes: Uint8Array | undefined,
  { fileName = "", curves, threads, onProgress }: PlanContext,
): Promise<PlanRow[]> {
  const rows: PlanRow[] = new Array(requests.length);
  const work: LaneWork<RowSource, RowRequest, PlanRow> = {
    begin: rowsFrom,
    entry: new URL("./plan-worker.js", import.meta.url),
    data: { bytes, fileName },
    costOf: ({ options }) => options.linesPerInch ?? 0,
  };
  const worthThreads = requests.some(({ kind }) => kind === "photo");
  let done = 0;
  await inLanes(requests, work, { curves, threads: worthThreads ? threads : 1 }, (row, index) => {
    rows[index] = row;
    onProgress?.(++done, requests.length);
  });
  return rows;
}

function plannedJob(checked: CheckedPlanOptions, material: Material, row: PlanRow, { options }: RowRequest) {
  const { speedMmPerS, accelerationMmPerS2, firingLagUs, firingLossUs } = checked;
  const { ringColumns, widthMm } = resolveOptions(options);
  const spread = spreadIn(checked);
  return {
    // The columns of a round piece have a slightly different pitch from its lines.
    widthMm: (ringColumns > 0 ? widthMm : undefined) ?? row.columns * row.pitchMm,
    heightMm: row.rows * row.pitchMm,
    material: material.name,
    materialSource: material.source,
    materialShape: material.shape,
    ...(material.charDose !== undefined && { charDose: material.charDose }),
    ...{ speedMmPerS, accelerationMmPerS2, firingLagUs, firingLossUs },
    ...{ doseSpread: doseSpreadOf(spread), spread },
  };
}

const spreadIn = ({ doseSpread, spread }: CheckedPlanOptions): Spread => resolveSpread(doseSpread, spread);

function choose(candidates: Candidates, lightness: number): Choice {
  if (candidates.options.kind === "strip") return chooseStrip(candidates);
  return candidates.options.kind === "shade" ? chooseShade(candidates, lightness) : choosePhoto(candidates);
}

/** The options for `prepare`, without density and spot. */
function prepareOptionsOf(checked: CheckedPlanOptions, hasPhoto: boolean): PrepareOptions {
  const { widthMm, heightMm, aroundMm, place } = checked;
  const shared = { ...preparedPart(checked), kind: "photo" as const };
  if (aroundMm !== undefined && widthMm === undefined && !place) {
    return { ...shared, widthMm, heightMm: heightMm ?? (hasPhoto ? undefined : DEFAULT_SIDE_MM) };
  }
  if (hasPhoto) return { ...shared, widthMm, heightMm };
  const one = widthMm ?? heightMm ?? DEFAULT_SIDE_MM;
  return { ...shared, widthMm: widthMm ?? one, heightMm: heightMm ?? one };
}

/** Refuse options that refer to places in a photo if there is none. */
function refuseWithoutPhoto(checked: CheckedPlanOptions): void {
  const option = (["crop", "focus", "mask"] as const).find((name) => checked[name] !== undefined);
  if (option === undefined) return;
  throw refusal("option-needs-photo", { option });
}

/** The user's densities, or a ladder of densities with those that the kind of work needs; rising. */
function densitiesFor(lens: PlanLens, material: Material, checked: CheckedPlanOptions): number[] {
  const { kind, densities, against, markMm, margin } = checked;
  const wanted = densities
    ? [...densities]
    : densityLadder(matchedOf(lens), MIN_LINES_PER_INCH, MAX_LINES_PER_INCH);
  if (against !== undefined) wanted.push(against);
  if (kind === "strip" && !densities) {
    const needed = strippingLinesPerInch(markMm ?? lineMarkMm(lens.spot, material), margin);
    wanted.push(Math.min(MAX_LINES_PER_INCH, Math.max(MIN_LINES_PER_INCH, Math.ceil(needed - 1e-6))));
    if (against === undefined) wanted.push(USUAL_STRIP_LINES_PER_INCH);
  }
  return [...new Set(wanted)].sort((a, b) => a - b);
}

const matchedOf = ({ spot }: PlanLens): number => linesPerInchFromPitchMm(spot.acrossMm);

function plannedLens(lens: PlanLens, material: Material): PlannedLens {
  const { name, spot, optics } = lens;
  return {
    name,
    spotAlongMm: spot.alongMm,
    spotAcrossMm: spot.acrossMm,
    matchedLinesPerInch: matchedOf(lens),
    referenceLinesPerInch: linesPerInchFromPitchMm(referencePitchMm(spot, material)),
    ...(optics && {
      optics: {
        focusMm: optics.focusMm,
        aberrationMm: optics.aberrationMm,
        depthOfFocusMm: optics.depthOfFocusMm,
      },
    }),
  };
}

function limitsOf(checked: CheckedPlanOptions, lightness: number): Plan["job"]["limits"] {
  const { kind, minutes, tones, gain, margin, darkness } = checked;
  return {
    ...(minutes !== undefined && { minutes }),
    ...(kind === "photo" && (tones ? { tones } : { gain })),
    ...(kind === "strip" && { margin }),
    ...(kind === "shade" && { darkness, lightness }),
  };
}
