import type { CandidatePictures, PartOfPiece } from "../../6-report/pictures/candidate-pictures.js";
import type { Report } from "../../6-report/report.js";
import { refusal } from "../../core/refusals/refusals.js";
import { type PrepareOptions, resolveOptions } from "../../options/options.js";
import { makePiece } from "../../pipeline/make-piece.js";
import { lanePhoto } from "../lane-photo.js";
import type { LaneContext } from "../lanes.js";
import { candidatePictures } from "./candidate-pictures.js";
import { type CloseUp, closeUpPart } from "./close-up.js";
import { type CandidateFigures, figuresOf } from "./figures.js";

export interface CandidateAnswer {
  readonly report: Report;
  readonly figures: CandidateFigures;
  /** Computing time on its thread. It differs from run to run, so it is no part of a comparison. */
  readonly computingSeconds: number;
  /** Only if they were requested. */
  readonly pictures?: CandidatePictures;
}

/** The data of a lane. */
export interface CandidateSource {
  /** The photo's. */
  readonly bytes: Uint8Array;
  readonly fileName: string;
  /** Only if pictures are requested. */
  readonly closeUp?: CloseUp;
}

/** Prepares candidates of one photo one after another on the calling thread. */
export function candidatesFrom(
  { bytes, fileName, closeUp }: CandidateSource,
  context: LaneContext,
): (options: PrepareOptions) => Promise<CandidateAnswer> {
  const photoFor = lanePhoto(bytes, fileName);
  let part: PartOfPiece | undefined;
  return async (options) => {
    const began = performance.now();
    const photo = await photoFor(resolveOptions(options));
    const wishes = { files: {}, keepBitmap: false, wholeReport: true, aboutPhoto: false };
    const { report, judged } = await makePiece(photo, options, wishes, { fileName, ...context });
    if (!judged) throw refusal("nothing-predicted", {});
    const figures = figuresOf(judged);
    const computingSeconds = (performance.now() - began) / 1000;
    if (!closeUp) return { report, figures, computingSeconds };
    part ??= await closeUpPart(await photoFor(resolveOptions(closeUp.options)), closeUp);
    const pictures = await candidatePictures(judged, part, closeUp.finestPitchMm);
    return { report, figures, computingSeconds, pictures };
  };
}
