import type { DetailPicture } from "../../6-report/pictures/detail-picture.js";
import type { Plan, PlannedLens, PlanRow } from "../../6-report/plan.js";
import { sayChange } from "../../6-report/words/plan-changes.js";
import { sayNote } from "../../6-report/words/plan-notes.js";
import { sayReason } from "../../6-report/words/plan-reasons.js";
import { defaultLinesPerInch } from "../../core/default-density.js";
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
  assumedInPlan,
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
import { givenIn } from "../../pipeline/describe/describe-piece.js";
import { inLanes, type LaneContext, type LaneWork } from "../lanes.js";
import type { Candidates, Choice } from "./choice.js";
import { chooseLens } from "./choose-lens.js";
import { choosePhoto } from "./choose-photo.js";
import { chooseShade } from "./choose-shade.js";
import { chooseStrip, strippingLinesPerInch } from "./choose-strip.js";
import { comparedDetailMm } from "./held-tones.js";
import { idleInPlan } from "./idle.js";
import { generalNotes } from "./notes.js";
import { type PictureLook, pictureNotes } from "./picture-look.js";
import { planPower, refuseUnplacedPower } from "./plan-power.js";
import {
  type PlanAnswer,
  type PlanRequest,
  planAnswers,
  type RowRequest,
  type RowSource,
} from "./plan-row.js";
import { wantedLightness } from "./solid-row.js";
import { trialsFor } from "./trial-densities.js";
import { type WorthCurve, worthCurve } from "./useful-tones.js";

/** Context of `plan` beside its options. */
export interface PlanContext extends LaneContext {
  /** Shown in messages; never opened. */
  readonly fileName?: string;
  /** Who reads the plan's sentences. Default: a programmer who calls the library. */
  readonly reader?: Reader;
  /** Called after each density with the number of finished densities and of all. */
  readonly onProgress?: (done: number, all: number) => void;
  /** Called with a picture of the same detail at each density of a photo, in any order. Without it no pictures are made. */
  readonly onPicture?: (row: number, picture: DetailPicture) => void;
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
  refuseUnplacedPower(checked, material);
  const { reader = libraryReader } = context;
  const requests = requestsFor(checked, lenses, material, photo !== undefined);
  refuseUnfit(requests);
  // One density needs no trials: there is nothing to compare it with.
  const isCompared = checked.kind === "photo" && requests.length > 1;
  const trials = isCompared ? lenses.map((_, lens) => trialsFor(ofLens(requests, lens))) : [];
  const look = photo && checked.kind === "photo" ? lookFor(options, requests) : undefined;
  const { rows, worth, looked } = await measure(requests, { trials, look }, photo, context);
  const lightness = wantedLightness(material, checked.darkness);
  const choices = lenses.map((lens, index) =>
    choose(
      {
        ...{ lens, material, options: checked, spread: spreadIn(checked) },
        rows: rows.filter((row) => row.lens === index),
      },
      worth[index],
      lightness,
    ),
  );
  const best = chooseLens(lenses, choices, checked.kind);
  const { row } = best;
  const against = rows.find(
    ({ lens, linesPerInch }) => lens === row.lens && Math.abs(linesPerInch - (checked.against ?? 0)) < 0.5,
  );
  const hasPhoto = photo !== undefined;
  const idle = idleInPlan(options, checked, resolveOptions(requests[0].options), rows);
  const powered = { material, options: checked, lens: lenses[row.lens], row };
  const assumed = assumedInPlan(options);
  const power = planPower({ ...powered, assumed }, reader);
  const chosen = { ...powered, power, against, hasPhoto, idle };
  const notes = [...(looked ? pictureNotes(looked) : []), ...best.notes, ...generalNotes(chosen)];
  const planned = lenses.map((lens) => plannedLens(lens, material));
  return {
    tool: { name: "spotpitch", version: packageVersion() },
    units: reader.units,
    job: {
      kind: checked.kind,
      photo: context.fileName ?? "",
      ...plannedJob(checked, material, row, requests[0]),
      detailMm: comparedDetailMm(row),
      limits: limitsOf(checked, lightness),
      assumed,
      ...givenIn(reader),
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
    power,
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
  for (const options of resolved) {
    if (options.method === "auto") continue;
    const { id: method, searches } = fittingMethod(options.method, options);
    if (searches) throw refusal("method-searches", { method, instead: "plan" }, { received: method });
  }
}

/** Options for a look at the picture, whose kind is open unless the user set it. */
const lookFor = ({ kind }: PlanOptions, [{ options }]: readonly RowRequest[]): PrepareOptions => ({
  ...options,
  kind: kind === "photo" ? kind : "auto",
});

const ofLens = (requests: readonly RowRequest[], index: number): PrepareOptions[] =>
  requests.filter(({ lens }) => lens === index).map(({ options }) => options);

/** What the lanes found: the rows in the order of their requests, and the worth of density for each lens of a photo. */
interface Measured {
  readonly rows: readonly PlanRow[];
  readonly worth: readonly WorthCurve[];
  readonly looked: PictureLook | undefined;
}

/** What the lanes do beside the rows. */
interface Beside {
  /** Densities to try, for each lens of a photo. */
  readonly trials: readonly (readonly PrepareOptions[])[];
  readonly look: PrepareOptions | undefined;
}

/** Make the rows of a plan; for a photo, try densities too. */
async function measure(
  requests: readonly RowRequest[],
  { trials, look }: Beside,
  bytes: Uint8Array | undefined,
  { fileName = "", curves, threads, onProgress, onPicture }: PlanContext,
): Promise<Measured> {
  const asked: PlanRequest[] = [
    ...requests.map((row) => ({ row })),
    ...trials.flat().map((trial) => ({ trial })),
    ...(look ? [{ look }] : []),
  ];
  const work: LaneWork<RowSource, PlanRequest, PlanAnswer> = {
    begin: planAnswers,
    entry: new URL("./plan-worker.js", import.meta.url),
    data: { bytes, fileName, pictures: onPicture !== undefined },
    costOf: (request) => ("row" in request ? (request.row.options.linesPerInch ?? 0) : 0),
  };
  const worthThreads = requests.some(({ kind }) => kind === "photo");
  const answers: PlanAnswer[] = new Array(asked.length);
  let done = 0;
  await inLanes(asked, work, { curves, threads: worthThreads ? threads : 1 }, (answer, index) => {
    answers[index] = answer;
    if ("row" in answer && answer.picture) onPicture?.(index, answer.picture);
    onProgress?.(++done, asked.length);
  });
  const found = answers.slice(requests.length).flatMap((answer) => ("trial" in answer ? [answer.trial] : []));
  const rows = answers.flatMap((answer) => ("row" in answer ? [answer.row] : []));
  const worth = trials.map((own, lens) => {
    const from = trials.slice(0, lens).flat().length;
    const first = rows.find((row) => row.lens === lens) ?? rows[0];
    return worthCurve(found.slice(from, from + own.length), comparedDetailMm(first));
  });
  const [looked] = answers.flatMap((answer) => ("look" in answer ? [answer.look] : []));
  return { rows: rows.map((row) => withUsefulTones(row, worth[row.lens])), worth, looked };
}

const withUsefulTones = (row: PlanRow, worth: WorthCurve | undefined): PlanRow =>
  worth ? { ...row, usefulTones: worth.usefulAt(row.linesPerInch) } : row;

function plannedJob(checked: CheckedPlanOptions, material: Material, row: PlanRow, { options }: RowRequest) {
  const { speedMmPerS, accelerationMmPerS2, firingLagUs, firingLossUs, defocusMm, passes } = checked;
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
    ...(defocusMm !== 0 && { defocusMm }),
    ...{ passes, speedMmPerS, accelerationMmPerS2, firingLagUs, firingLossUs },
    ...{ doseSpread: doseSpreadOf(spread), spread },
  };
}

const spreadIn = ({ doseSpread, spread }: CheckedPlanOptions): Spread => resolveSpread(doseSpread, spread);

function choose(candidates: Candidates, worth: WorthCurve | undefined, lightness: number): Choice {
  const { kind } = candidates.options;
  if (kind === "photo") return choosePhoto({ ...candidates, worth });
  return kind === "shade" ? chooseShade(candidates, lightness) : chooseStrip(candidates);
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
  const usual = kind === "photo" ? defaultLinesPerInch(lens.spot.acrossMm, material) : undefined;
  const wanted = densities
    ? [...densities]
    : densityLadder(matchedOf(lens), MIN_LINES_PER_INCH, MAX_LINES_PER_INCH, usual);
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
