import { defaultLinesPerInch, nearestOffered } from "../core/default-density.js";
import { findMaterial, resolveMaterial } from "../core/material/material.js";
import { byToneRange } from "../core/material/tone-range.js";
import { refusal } from "../core/refusals/refusals.js";
import { commonFromDoseSpread, DEFAULT_SPREAD, type Spread } from "../core/spread.js";
import { linesPerInchFromPitchMm, pitchMmFromLinesPerInch } from "../core/units.js";
import { circumferenceMm, closedColumns, middleDiameterMm } from "../core/wrap.js";
import { fullToneOf } from "./full-tone.js";
import { assumedIn, conditionalIn } from "./given.js";
import { checkOptions } from "./option-error.js";
import type { ResolvedOptions } from "./resolved-options.js";
import { resolveWrap } from "./round-options.js";
import { solidOptions } from "./solid-options.js";
import { spotOf, spotOnWork } from "./spot-on-work.js";
import { SCREEN_PERIOD_SPOTS } from "./table/halftone.js";
import { type PrepareOptions, prepareSchema, prepareTable } from "./tables.js";

export type { ResolvedOptions, SettledOptions } from "./resolved-options.js";
export type { PrepareOptions } from "./tables.js";

/** Largest number of pixels of a bitmap: about a 600 × 400 mm bed at 1000 lines per inch. */
export const MAX_PIXELS = 400e6;

/**
 * Check a caller's options, fill in defaults, and freeze the result. All inner code uses this form.
 * Throws `OPTION_INVALID`, `OPTION_UNKNOWN`, and what `findMaterial` and `resolveMaterial` throw.
 */
export function resolveOptions(options: PrepareOptions): ResolvedOptions {
  const {
    spotMm,
    material: asked,
    linesPerInch,
    linesPerInchAlong,
    linesPerInchOffered,
    screenLinesPerInch,
    aroundMm,
    coneLayout,
    place,
    wallMm,
    doseSpread,
    spread,
    wavelengthMm,
    propagationRatio,
    defocusMm,
    powerPercent,
    ...rest
  } = checkOptions(prepareSchema, options);
  const focusSpot = spotOf(spotMm);
  const spot = spotOnWork(focusSpot, { wavelengthMm, propagationRatio, defocusMm });
  const material = typeof asked === "string" ? findMaterial(asked) : resolveMaterial(asked);
  const wanted = defaultLinesPerInch(spot.acrossMm, material);
  const across = linesPerInch ?? nearestOffered(wanted, linesPerInchOffered);
  const meanSpotMm = Math.sqrt(spot.alongMm * spot.acrossMm);
  const alongMm = pitchMmFromLinesPerInch(linesPerInchAlong ?? across);
  const acrossMm = pitchMmFromLinesPerInch(across);
  const wrap = resolveWrap({ aroundMm, coneLayout, place, wallMm }, rest);
  const roundMm = wrap && !wrap.placing ? circumferenceMm(middleDiameterMm(wrap)) : undefined;
  const ringColumns = roundMm === undefined ? 0 : closedColumns(roundMm, alongMm);
  if (roundMm !== undefined) checkRing(roundMm / ringColumns, alongMm);
  return Object.freeze({
    ...rest,
    ...(rest.kind === "solid" && solidOptions(rest)),
    widthMm: roundMm ?? rest.widthMm,
    wrap,
    ringColumns,
    spot: Object.freeze(spot),
    outOfFocus: defocusMm === 0 ? undefined : Object.freeze({ defocusMm, focusSpot }),
    material,
    pitch: Object.freeze({
      alongMm: roundMm === undefined ? alongMm : roundMm / ringColumns,
      acrossMm,
    }),
    fullTone: fullToneOf(powerPercent, {
      material,
      pitchMm: linesPerInch === undefined ? undefined : acrossMm,
      speedMmPerS: rest.speedMmPerS,
    }),
    screenLinesPerInch:
      screenLinesPerInch ??
      linesPerInchFromPitchMm(byToneRange(material.toneRange, SCREEN_PERIOD_SPOTS) * meanSpotMm),
    motion: Object.freeze({
      speedMmPerS: rest.speedMmPerS,
      firingLagUs: rest.firingLagUs,
      firingLossUs: rest.firingLossUs,
      lineShiftMm: rest.lineShiftMm,
      oneWay: rest.oneWay,
    }),
    spread: resolveSpread(doseSpread, spread),
    assumed: Object.freeze(assumedIn(prepareTable, options)),
    conditional: Object.freeze(conditionalIn(prepareTable, options)),
  });
}

/** Throws `OPTION_CONFLICT` if the common part is given twice. */
export function resolveSpread(doseSpread: number | undefined, parts: PrepareOptions["spread"] = {}): Spread {
  if (doseSpread !== undefined && parts.common !== undefined) {
    throw refusal("spread-given-twice", {}, { received: doseSpread });
  }
  const common = parts.common ?? (doseSpread === undefined ? undefined : commonFromDoseSpread(doseSpread));
  const given = Object.entries({ ...parts, common }).filter(([, value]) => value !== undefined);
  return Object.freeze({ ...DEFAULT_SPREAD, ...Object.fromEntries(given) });
}

/** Largest change of the pitch that closes a ring, as a share of the pitch. */
const MAX_PITCH_CHANGE = 0.1;

/** Throws `OPTION_CONFLICT` if a ring has so few columns that closing it would change the density too much. */
function checkRing(closedMm: number, askedMm: number): void {
  if (Math.abs(closedMm / askedMm - 1) <= MAX_PITCH_CHANGE) return;
  throw refusal("too-few-columns", { closedMm, askedMm });
}
