import { decodePhoto, type Photo } from "../../1-photo/decode.js";
import type { ToneCurve } from "../../5-burn/tone-curve.js";
import type { RgbPicture } from "../../6-report/preview.js";
import type { Report } from "../../6-report/report.js";
import { SpotpitchError } from "../../core/errors.js";
import { type PrepareOptions, resolveOptions } from "../../core/options.js";
import type { PackedBitmap } from "../../core/packed-bits.js";
import { decodeHints } from "../piece-size.js";
import { type FinishedPiece, makePiece } from "../prepare.js";
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

/** What a sheet of candidates shows of one: its dots, in memory that all threads share, and its preview. */
export interface CandidatePictures {
  readonly bitmap: PackedBitmap;
  readonly preview: RgbPicture;
}

/** What a lane works on: the photo's bytes. */
export interface CandidateSource {
  readonly bytes: Uint8Array;
  readonly fileName: string;
  readonly pictures: boolean;
  /** For each candidate; see `PrepareContext`. */
  readonly threads?: number;
}

/** Prepares candidates of one photo, one after the other, on the thread that it is called on. The photo is decoded once. */
export function candidatesFrom(
  source: CandidateSource,
): (request: CandidateRequest) => Promise<CandidateAnswer> {
  const { bytes, fileName, threads } = source;
  let decoded: Photo | undefined;
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
      { burn: () => {}, preview: () => {} },
      { fileName, curves: store, ...(threads !== undefined && { threads }) },
      true,
    );
    if (!finished) throw new SpotpitchError("INTERNAL", "Nothing was predicted.");
    const figures = figuresOf(finished);
    return {
      report,
      figures,
      computingSeconds: (performance.now() - began) / 1000,
      curves: measured,
      ...(source.pictures && { pictures: picturesOf(finished) }),
    };
  };
}

const picturesOf = ({ bitmap, pictures: { preview } }: FinishedPiece): CandidatePictures => ({
  bitmap,
  preview,
});

/** What of an answer is handed over whole. */
export const lentBy = ({ pictures }: CandidateAnswer): ArrayBuffer[] =>
  pictures ? [pictures.preview.rgb.buffer as ArrayBuffer] : [];
