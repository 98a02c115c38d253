import { execFile } from "node:child_process";
import { fileURLToPath } from "node:url";
import { unpackBitmap } from "../../src/core/packed-bits.js";
import type { JudgedPiece } from "../../src/pipeline/made-piece.js";
import { makePiece } from "../../src/pipeline/make-piece.js";
import type { ModelJob } from "./model-job.js";
import { viewLuminanceOf } from "./view-luminance.js";

// The system's interpreter, because distributions package NumPy, SciPy and Pillow for it and not for a private one.
const python = "/usr/bin/python3";
const script = fileURLToPath(new URL("../reference/model_cases.py", import.meta.url));

export const FIGURES = [
  "visualErrorRms",
  "visualErrorBias",
  "unevenness",
  "toneShift",
  "expectedVisualError",
] as const;
export type Figure = (typeof FIGURES)[number];
/** Figures of a report; those that it does not have are missing. */
export type Figures = Readonly<Partial<Record<Figure, number>>>;

export const PARTS = ["common", "local", "line", "spot"] as const;
/** What each part of the variation adds to unevenness and tone shift, in L*: squares add up. */
export type PartFigures = Readonly<
  Record<(typeof PARTS)[number], { readonly unevenness: number; readonly toneShift: number }>
>;

/** What the product says of a job, and what the brute-force simulation needs to say the same. */
export interface ModelPiece {
  readonly figures: Figures;
  readonly variation: PartFigures | undefined;
  readonly referenceCase: object;
}

export interface ReferenceFigures extends Required<Figures> {
  /** From the scatter over the seeds. */
  readonly parts: PartFigures;
  readonly standardErrors: { readonly unevenness: number; readonly toneShift: number };
}

/** Make the piece in this process. */
export async function makeModelPiece(job: ModelJob, seeds?: number): Promise<ModelPiece> {
  const wishes = { files: {}, keepBitmap: true, wholeReport: true, aboutPhoto: false };
  const { report, judged } = await makePiece(job.photo, job.options, wishes, { threads: 1 });
  if (!judged || !report.prediction) throw new Error("The piece was not judged.");
  if (report.prediction.judgedShare !== 1) throw new Error("The piece is too large to be judged as a whole.");
  const { prediction } = report;
  return {
    figures: figuresOf(prediction),
    variation: "variation" in prediction ? (prediction.variation as PartFigures) : undefined,
    referenceCase: caseOf(job, judged, viewLuminanceOf(report), seeds),
  };
}

function figuresOf(prediction: object): Figures {
  const has = (name: Figure) => name in prediction;
  // The expected error is made of unevenness and tone shift: it is another one where they are missing.
  const shared = FIGURES.filter((name) => has(name) && (name !== "expectedVisualError" || has("unevenness")));
  return Object.fromEntries(shared.map((name) => [name, Number(Reflect.get(prediction, name))]));
}

function caseOf({ firingLossUs }: ModelJob, judged: JudgedPiece, viewLuminanceCdM2: number, seeds?: number) {
  const { bitmap, codes } = judged;
  const { columns, rows } = bitmap;
  const { pitch, spot, motion, spread, toneMap, viewDistanceMm, material } = judged.job.options;
  const linear = new Uint16Array(columns * rows);
  for (let y = 0; y < rows; y++) linear.set(codes(y).subarray(0, columns), y * columns);
  return {
    params: {
      ...{ pitchAlongMm: pitch.alongMm, pitchAcrossMm: pitch.acrossMm },
      ...{ spotAlongMm: spot.alongMm, spotAcrossMm: spot.acrossMm },
      ...{ firingLagUs: motion.firingLagUs, firingLossUs, speedMmPerS: motion.speedMmPerS },
      ...{ lineShiftMm: motion.lineShiftMm, twoWay: !motion.oneWay },
      // The surface itself, where the table is of fills that ripple.
      ...{ response: material.curve.points, lineExponent: material.lineExponent ?? 1 },
      ...{ toneMap, viewDistanceMm, adaptLuminance: viewLuminanceCdM2, spread, samplesPerSpot: 30, seeds },
    },
    ...{ columns, rows, fullPower: bitmap.levels - 1 },
    burn: Buffer.from(unpackBitmap(bitmap)).toString("base64"),
    linear: Buffer.from(linear.buffer).toString("base64"),
  };
}

/** Give the cases to the brute-force simulation, to two processes at a time. */
export async function simulateModelCases(cases: readonly object[]): Promise<ReferenceFigures[]> {
  const halves = [0, 1].map((half) => cases.filter((_, k) => k % 2 === half));
  const answers = await Promise.all(halves.map(askModelCases));
  return cases.map((_, k) => answers[k % 2][k >> 1]);
}

function askModelCases(cases: readonly object[]): Promise<ReferenceFigures[]> {
  return new Promise((resolve, reject) => {
    // Its matrices are small: more threads would only disturb the other process.
    const env = { ...process.env, OPENBLAS_NUM_THREADS: "1", OMP_NUM_THREADS: "1" };
    const child = execFile(python, [script], { env, maxBuffer: 1 << 26 }, (error, stdout) => {
      if (error) reject(error);
      else resolve(JSON.parse(stdout));
    });
    child.stdin?.end(JSON.stringify({ cases }));
  });
}
