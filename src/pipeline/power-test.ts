import { runTime } from "../5-burn/run-time.js";
import { encodePackedBitmap } from "../6-report/files/bitmap-file.js";
import type { PowerTest } from "../6-report/power-test.js";
import {
  type PowerTestFigures,
  powerTestNotes,
  powerTestOutcome,
  powerTestSteps,
} from "../6-report/words/power-test-words.js";
import { generalCautions } from "../core/material/cautions.js";
import { packBitmap } from "../core/packed-bits.js";
import { gapMm } from "../core/physics/coverage.js";
import { libraryReader, type Reader } from "../core/reader.js";
import { linesPerInchFromPitchMm } from "../core/units.js";
import { packageVersion } from "../core/version.js";
import { type PowerTestOptions, resolvePowerTest } from "../options/power-test-options.js";

/** Enough to see where the tone levels off, few enough to burn in minutes. Common practice, no source. */
const PATCHES = 5;
/** From one power to the next: four steps of it span a factor of 3.8. */
const POWER_RATIO = 1.4;

/** A power test: the patch to burn, and what to do with it. */
export interface PowerTestPatch {
  readonly burnFile: Uint8Array;
  readonly test: PowerTest;
}

/**
 * A solid patch at the density, spot and speed of a job. Burned at five powers of the user's choice, it shows the power for full
 * tone.
 *
 * @param reader of the words; default: a programmer who calls the library
 * @throws SpotpitchError with an `OPTION_*` code for a bad option
 */
export async function powerTest(
  options: PowerTestOptions = {},
  reader: Reader = libraryReader,
): Promise<PowerTestPatch> {
  const { patchMm, isSpeedGiven, resolved } = resolvePowerTest(options);
  const { pitch, spot, material, speedMmPerS, format } = resolved;
  const columns = Math.max(1, Math.round(patchMm / pitch.alongMm));
  const rows = Math.max(1, Math.round(patchMm / pitch.acrossMm));
  const bitmap = packBitmap(new Uint8Array(columns * rows).fill(1), columns, rows);
  const figures: PowerTestFigures = {
    job: {
      material: material.name,
      materialSource: material.source,
      marksGrow: material.curve.darkens ? "darker" : "lighter",
      widthMm: columns * pitch.alongMm,
      heightMm: rows * pitch.acrossMm,
      ...{ columns, rows, pitchAlongMm: pitch.alongMm, pitchAcrossMm: pitch.acrossMm },
      linesPerInch: linesPerInchFromPitchMm(pitch.acrossMm),
      ...{ spotAlongMm: spot.alongMm, spotAcrossMm: spot.acrossMm },
      gapMm: gapMm(pitch.acrossMm, spot.acrossMm),
      ...(material.charDose !== undefined && { charDose: material.charDose }),
      ...{ speedMmPerS, isSpeedGiven },
    },
    patches: PATCHES,
    powerRatio: POWER_RATIO,
    secondsPerPatch: runTime(bitmap, pitch.alongMm, resolved).seconds,
  };
  const test = {
    tool: { name: "spotpitch", version: packageVersion() },
    units: reader.units,
    ...figures,
    steps: powerTestSteps(figures, reader.units),
    notes: powerTestNotes(figures),
    giveAs: powerTestOutcome(figures, reader),
    cautions: [...material.hazards, ...generalCautions],
  } as const;
  return { burnFile: await encodePackedBitmap(bitmap, pitch, format), test };
}
