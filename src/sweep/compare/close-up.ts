import type { PartOfPiece } from "../../6-report/pictures/candidate-pictures.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { type PrepareOptions, resolveOptions } from "../../options/options.js";
import type { DecodedSource } from "../../pipeline/make-piece.js";
import { engravedPart } from "../../pipeline/photo/engraved-part.js";
import { photoOnGrid } from "../../pipeline/photo/luminance.js";
import { frameOf } from "../../pipeline/photo/piece-size.js";
import { typicalPart } from "../../pipeline/photo/typical-part.js";

/** Side of the part that shows single dots, in pixels of the finest candidate. */
const SIDE_PX = 448;

/** The place of the close-up, the same for all candidates of a comparison. */
export interface CloseUp {
  /** The options of the first candidate, on the finest grid of all. */
  readonly options: PrepareOptions;
  readonly finestPitchMm: number;
}

export function closeUpOf(candidates: readonly PrepareOptions[]): CloseUp {
  const pitches = candidates.map((one) => resolveOptions(one).pitch);
  const finestPitchMm = Math.min(...pitches.flatMap(({ alongMm, acrossMm }) => [alongMm, acrossMm]));
  const linesPerInch = linesPerInchFromPitchMm(finestPitchMm);
  const options = { ...candidates[0], linesPerInch, linesPerInchAlong: linesPerInch };
  return { options, finestPitchMm };
}

/** The part whose tones are most like those of the whole piece, as seen. */
export async function closeUpPart(source: DecodedSource, { options }: CloseUp): Promise<PartOfPiece> {
  const resolved = resolveOptions(options);
  const photo = await source.photo;
  const frame = frameOf(photo, resolved);
  const engraved = await (source.engraved?.() ?? engravedPart(photo, resolved));
  const picture = photoOnGrid(engraved, frame, resolved);
  const { left, top, columns, rows } = typicalPart(picture, SIDE_PX, resolved);
  const seenLeft = resolved.mirror ? frame.columns - left - columns : left;
  return {
    left: seenLeft / frame.columns,
    top: top / frame.rows,
    width: columns / frame.columns,
    height: rows / frame.rows,
  };
}
