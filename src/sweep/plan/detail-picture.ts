import type { PartOfPiece } from "../../6-report/pictures/candidate-pictures.js";
import { mostDetailed } from "../../6-report/pictures/detail-crop.js";
import type { DetailPicture } from "../../6-report/pictures/detail-picture.js";
import { encodePagePicture, paintedPicture } from "../../6-report/pictures/page-picture.js";
import { SpotpitchError } from "../../core/errors.js";
import { planeOfRows, rowsOfPlane } from "../../core/plane-rows.js";
import { type PrepareOptions, resolveOptions } from "../../options/options.js";
import { painterOf } from "../../pipeline/describe/render-preview.js";
import type { JudgedPiece } from "../../pipeline/made-piece.js";
import type { DecodedSource } from "../../pipeline/make-piece.js";
import { engravedPart } from "../../pipeline/photo/engraved-part.js";
import { photoOnGrid } from "../../pipeline/photo/luminance.js";
import { insideOutline } from "../../pipeline/photo/picture-outline.js";
import { smallLuminance } from "../../pipeline/photo/picture-rows.js";
import { frameOf } from "../../pipeline/photo/piece-size.js";
import { onBitmap, samplesOf, scaledPicture } from "../part-of-piece.js";

/** Size of the part on the work: a few marks of any density, and a feature of a face. */
const PART_MM = { width: 5, height: 7 } as const;

/** Resolution of the pictures: two pixels of a screen at seven times life size. */
const PX_PER_MM = 50;

/** The grid on which the place is looked for. It does not depend on the densities or spots of the plan. */
const SEARCH_LINES_PER_INCH = 254;
const SEARCH_SPOT_MM = 0.1;
const MAX_SEARCHED_PX = 800;
/** Side of the cells whose tones are compared, in mm. */
const CELL_MM = 0.25;

/** Makes pictures of the same detail of pieces of one picture. It looks for the place once for each spot. */
export function detailPictures(): (
  source: DecodedSource,
  options: PrepareOptions,
  piece: JudgedPiece,
) => Promise<DetailPicture | undefined> {
  // The built-in picture depends on the spot, so the place must not depend on which spot comes first on a thread.
  const parts = new Map<string, PartOfPiece | undefined>();
  return async (source, options, piece) => {
    const spot = JSON.stringify(options.spotMm);
    if (!parts.has(spot)) parts.set(spot, await detailedPart(source, options).catch(noPlace));
    const part = parts.get(spot);
    return part && pictureOf(part, piece);
  };
}

/** A very small ring or a very large piece may not fit the grid of the search. It is planned without pictures. */
function noPlace(error: unknown): undefined {
  if (!(error instanceof SpotpitchError && error.code.startsWith("OPTION_"))) throw error;
}

/** The most detailed part of the photo, as seen. */
async function detailedPart(source: DecodedSource, asked: PrepareOptions): Promise<PartOfPiece> {
  const options = resolveOptions({
    ...asked,
    linesPerInch: SEARCH_LINES_PER_INCH,
    linesPerInchAlong: SEARCH_LINES_PER_INCH,
    spotMm: SEARCH_SPOT_MM,
  });
  const photo = await source.photo;
  const frame = frameOf(photo, options);
  const engraved = await (source.engraved?.() ?? engravedPart(photo, options));
  const { placement } = frame;
  const area = insideOutline(frame, options) ?? placement;
  const scale = Math.min(1, MAX_SEARCHED_PX / Math.max(placement.columns, placement.rows));
  const px = (gridPx: number): number => Math.max(1, Math.round(gridPx * scale));
  const columns = px(placement.columns);
  const small = smallLuminance(photoOnGrid(engraved, frame, options), columns, px(placement.rows));
  // Outside an oval or a border there is nothing to compare.
  const [left, top] = [area.left - placement.left, area.top - placement.top].map((at) =>
    Math.round(at * scale),
  );
  const inside = { columns: Math.min(columns - left, px(area.columns)), rows: px(area.rows) };
  const row = rowsOfPlane(small, columns);
  const values = planeOfRows(
    (y) => row(Math.min(top + y, px(placement.rows) - 1)).subarray(left, left + inside.columns),
    inside.columns,
    inside.rows,
  );
  const { alongMm, acrossMm } = options.pitch;
  const window = {
    columns: Math.min(inside.columns, px(PART_MM.width / alongMm)),
    rows: Math.min(inside.rows, px(PART_MM.height / acrossMm)),
  };
  const cellPx = Math.max(1, Math.round((CELL_MM / alongMm) * scale));
  const place = mostDetailed(values, inside.columns, inside.rows, window, cellPx);
  return {
    left: (area.left + place.left / scale) / frame.columns,
    top: (area.top + place.top / scale) / frame.rows,
    width: Math.min(1, PART_MM.width / frame.widthMm),
    height: Math.min(1, PART_MM.height / frame.heightMm),
  };
}

/** The part of a piece as predicted. */
async function pictureOf(part: PartOfPiece, piece: JudgedPiece): Promise<DetailPicture> {
  const { job } = piece;
  const { pitch, mirror } = job.options;
  const area = onBitmap(part, piece);
  const [widthMm, heightMm] = [area.columns * pitch.alongMm, area.rows * pitch.acrossMm];
  const size = { columns: Math.round(widthMm * PX_PER_MM), rows: Math.round(heightMm * PX_PER_MM) };
  const { values, columns, rows } = scaledPicture(job, samplesOf(piece, area), size, mirror);
  const file = await encodePagePicture(paintedPicture(values, columns, rows, painterOf(job)));
  return { file, widthMm, heightMm };
}
