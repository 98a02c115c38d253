import { decodePhoto, type Photo } from "../../1-photo/decode.js";
import type { ToneCurve } from "../../5-burn/tone-curve.js";
import type { CandidatePictures, PartOfPiece } from "../../6-report/pictures/candidate-pictures.js";
import type { Report } from "../../6-report/report.js";
import { refusal } from "../../core/refusals/refusals.js";
import { type PrepareOptions, resolveOptions } from "../../options/options.js";
import { decodeHints } from "../../pipeline/photo/piece-size.js";
import { makePiece } from "../../pipeline/prepare.js";
import { candidatePictures } from "./candidate-pictures.js";
import { type CloseUp, closeUpPart } from "./close-up.js";
import { type CandidateFigures, figuresOf } from "./figures.js";

/** A tone curve and its name in a `CurveStore`, which cannot go to another thread itself. */
export type NamedCurve = readonly [key: string, curve: ToneCurve];

/** One way to prepare the photo, in a form that can be sent to another thread. */
export interface CandidateRequest {
  readonly options: PrepareOptions;
  /** Known before. */
  readonly curves: readonly NamedCurve[];
}

export interface CandidateAnswer {
  readonly report: Report;
  readonly figures: CandidateFigures;
  /** Time that it took on its thread: not the same twice, and no part of a comparison. */
  readonly computingSeconds: number;
  /** Measured anew. */
  readonly curves: readonly NamedCurve[];
  /** Where they were wanted. */
  readonly pictures?: CandidatePictures;
}

/** What a lane works on: the photo's bytes. */
export interface CandidateSource {
  readonly bytes: Uint8Array;
  readonly fileName: string;
  /** Where pictures are wanted. */
  readonly closeUp?: CloseUp;
  /** For each candidate; see `PrepareContext`. */
  readonly threads?: number;
}

/** Prepares candidates of one photo, one after the other, on the thread that it is called on. The photo is decoded once. */
export function candidatesFrom(
  source: CandidateSource,
): (request: CandidateRequest) => Promise<CandidateAnswer> {
  const { bytes, fileName, closeUp, threads } = source;
  let decoded: Photo | undefined;
  let part: PartOfPiece | undefined;
  const photoFor = async (options: PrepareOptions): Promise<Photo> => {
    // A drawing is rendered for each grid anew.
    if (!decoded || decoded.format === "svg") {
      decoded = await decodePhoto(bytes, decodeHints(resolveOptions(options), { fileName }));
    }
    return decoded;
  };
  return async ({ options, curves }) => {
    const began = performance.now();
    const known = new Map(curves);
    const measured: NamedCurve[] = [];
    const store = {
      get: (key: string) => known.get(key),
      set: (key: string, curve: ToneCurve) => void measured.push([key, curve]),
    };
    const { report, finished } = await makePiece(
      { photo: photoFor(options) },
      options,
      { burn: () => {} },
      { fileName, curves: store, ...(threads !== undefined && { threads }) },
      true,
    );
    if (!finished) throw refusal("nothing-predicted", {});
    const figures = figuresOf(finished);
    const computingSeconds = (performance.now() - began) / 1000;
    if (!closeUp) return { report, figures, computingSeconds, curves: measured };
    part ??= await closeUpPart(await photoFor(closeUp.options), closeUp);
    const pictures = await candidatePictures(finished, part, closeUp.finestPitchMm);
    return { report, figures, computingSeconds, curves: measured, pictures };
  };
}
