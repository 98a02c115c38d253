import type { KernelMemory } from "../core/kernel-memory.js";
import { packBitmap, rowsOfBitmap } from "../core/packed-bits.js";
import type { Pitch } from "../core/plane.js";
import { doseStride, exposeRows } from "./exposure.js";
import type { ExposurePlan } from "./exposure-plan.js";

/** A small bitmap to engrave in the model, one byte per pixel, and the part to measure. */
export interface TestPiece {
  readonly columns: number;
  readonly rows: number;
  /** [rows × columns] 1 = burn. */
  readonly bits: Uint8Array;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Finely sampled dose of the measured part, row-major, and the samples per pixel. */
export interface TestDose {
  readonly dose: Float32Array;
  readonly columns: number;
  readonly rows: number;
  readonly samplesAlong: number;
  readonly samplesAcross: number;
}

/** Exposure of test pieces, and the dose at the end of a mark. */
export interface TestBeam {
  readonly memory: KernelMemory;
  readonly plan: ExposurePlan;
  readonly pitch: Pitch;
  readonly halfDose: number;
}

export function engraveTestPiece(beam: TestBeam, piece: TestPiece): TestDose {
  const { columns, rows, bits, left, right, top, bottom } = piece;
  const { samplesAlong, samplesAcross } = beam.plan;
  const bitmap = rowsOfBitmap(packBitmap(bits, columns, rows));
  const width = (right - left) * samplesAlong;
  const height = (bottom - top) * samplesAcross;
  const out = new Float32Array(width * height);
  const stride = doseStride(columns);
  exposeRows(beam, bitmap, { firstRow: top, endRow: bottom }, (dose, y, sampleAcross) => {
    let to = ((y - top) * samplesAcross + sampleAcross) * width;
    for (let x = left; x < right; x++) {
      for (let s = 0; s < samplesAlong; s++) out[to++] = dose[s * stride + x];
    }
  });
  return { dose: out, columns: width, rows: height, samplesAlong, samplesAcross };
}

/** Dose at a place in pixels from the upper left corner of the part, bilinear. The place must lie well inside. */
export function doseBetween(
  { dose, columns, samplesAlong, samplesAcross }: TestDose,
  xPx: number,
  yPx: number,
): number {
  const x = xPx * samplesAlong - 0.5;
  const y = yPx * samplesAcross - 0.5;
  const at = Math.floor(y) * columns + Math.floor(x);
  const alongShare = x - Math.floor(x);
  const upper = dose[at] + (dose[at + 1] - dose[at]) * alongShare;
  const lower = dose[at + columns] + (dose[at + columns + 1] - dose[at + columns]) * alongShare;
  return upper + (lower - upper) * (y - Math.floor(y));
}

/**
 * End of the mark along a line of samples: the outermost place where the dose reaches the threshold, in samples from the first,
 * geometric between samples. Undefined without a mark.
 *
 * @param from outermost sample; @param step to the next sample inwards; @param count number of samples
 */
export function markEnd(
  dose: Float32Array,
  from: number,
  step: number,
  count: number,
  threshold: number,
): number | undefined {
  for (let k = 0, at = from; k < count; k++, at += step) {
    if (dose[at] < threshold) continue;
    if (k === 0) return 0;
    // Flanks are Gaussian, and so almost straight in the logarithm.
    const outer = dose[at - step];
    return k - (outer > 0 ? Math.log(dose[at] / threshold) / Math.log(dose[at] / outer) : 0);
  }
  return undefined;
}
