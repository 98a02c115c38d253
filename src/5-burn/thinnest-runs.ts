import { engraveTestPiece, markEnd, type TestBeam } from "./mark-ends.js";

/**
 * A stroke must leave a mark with a dose a fifth lower, and a gap must stay open with a dose a quarter higher. Where a solid fill
 * itself reaches little more than the half dose, a stroke must reach the mean of both.
 */
const DOSE_RESERVE = 1.25;

/** This many pixels side by side leave a mark even with the largest spot on the finest grid. */
const MAX_RUN_PX = 512;

export interface ThinnestRun {
  /** Pixels side by side that leave a mark. */
  readonly minPx: number;
  /** Width of that mark, in mm. */
  readonly markMm: number;
}

/** The thinnest long strokes that leave a mark: runs along the lines, and lines side by side. */
export function thinnestRuns(beam: TestBeam) {
  const { pitch, halfDose } = beam;
  const thinnest = (along: boolean): ThinnestRun => {
    const pitchMm = along ? pitch.alongMm : pitch.acrossMm;
    const enough = Math.min(DOSE_RESERVE * halfDose, (halfDose + fillDose(beam, along)) / 2);
    for (let px = 1; ; px++) {
      const profile = strokeProfile(beam, along, px, 1);
      if (px < MAX_RUN_PX && Math.max(...profile.dose) < enough) continue;
      const { dose, samples } = profile;
      const count = dose.length;
      const from = markEnd(dose, 0, 1, count, halfDose) ?? 0;
      const to = markEnd(dose, count - 1, -1, count, halfDose) ?? 0;
      return { minPx: px, markMm: ((count - 1 - from - to) / samples) * pitchMm };
    }
  };
  return { along: thinnest(true), across: thinnest(false) };
}

/** The greatest dose of a stroke so wide that its middle is a solid fill. */
function fillDose(beam: TestBeam, along: boolean): number {
  const { evenLines, across } = beam.plan;
  const { reach } = along ? evenLines : across;
  return Math.max(...strokeProfile(beam, along, 2 * reach + 1, 1).dose);
}

/** Minimum pixels of a bare gap between two large shapes that stays open. */
export function openRunPx(beam: TestBeam) {
  const open = (along: boolean): number => {
    let px = 1;
    const minDose = (): number => Math.min(...strokeProfile(beam, along, px, 0).dose);
    while (px < MAX_RUN_PX && DOSE_RESERVE * minDose() >= beam.halfDose) px++;
    return px;
  };
  return { along: open(true), across: open(false) };
}

/**
 * Dose across a stroke of `px` pixels (bit = 1), or across a gap in a solid fill (bit = 0), as a mean along it.
 */
function strokeProfile(beam: TestBeam, along: boolean, px: number, bit: 0 | 1) {
  const { plan } = beam;
  const [reach, breadth] = along
    ? [plan.evenLines.reach, plan.across.reach]
    : [plan.across.reach, plan.evenLines.reach];
  const side = reach + 1;
  const deep = 2 * (side + reach) + px;
  const wide = 2 * breadth + 1;
  const [columns, rows] = along ? [deep, wide] : [wide, deep];
  const bits = new Uint8Array(columns * rows);
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++) {
      const depth = along ? x : y;
      const within = depth >= side + reach && depth < side + reach + px;
      bits[y * columns + x] = within ? bit : 1 - bit;
    }
  }
  const part = along
    ? { left: reach, right: columns - reach, top: breadth, bottom: breadth + 1 }
    : { left: breadth, right: breadth + 1, top: reach, bottom: rows - reach };
  const test = engraveTestPiece(beam, { columns, rows, bits, ...part });
  const count = along ? test.columns : test.rows;
  const lines = along ? test.rows : test.columns;
  const dose = new Float32Array(count);
  for (let k = 0; k < count; k++) {
    let sum = 0;
    for (let i = 0; i < lines; i++) sum += test.dose[along ? i * count + k : k * lines + i];
    dose[k] = sum / lines;
  }
  return { dose, samples: along ? test.samplesAlong : test.samplesAcross };
}
