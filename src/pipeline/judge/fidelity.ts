import { resampledRows, sourceRowsOf } from "../../3-resample/resample.js";
import { type Fate, fates, lostDistinctions, type ShownBy } from "../../5-burn/lost-distinctions.js";
import type { TonalResolution } from "../../5-burn/tonal-resolution.js";
import type { Report } from "../../6-report/report.js";
import { createKernelMemory } from "../../core/kernel-memory.js";
import { BRIGHTEST_CODE, CODES } from "../../core/luminance-codes.js";
import { lightnessFromLuminance } from "../../core/physics/lightness.js";
import { linearFromSrgb } from "../../core/physics/transfer.js";
import { planeOfRows } from "../../core/plane-rows.js";
import type { ResolvedOptions } from "../../options/options.js";
import type { PieceOnScreen } from "../describe/piece-pictures.js";
import type { SettledJob } from "../job.js";
import { gridRows } from "../photo/luminance.js";
import { edgeRowsOf } from "../photo/picture-outline.js";
import { type PictureOnGrid, withPlanes } from "../photo/picture-rows.js";
import { mergedColours } from "./merged-colours.js";
import { viewingOf } from "./viewing.js";

/** Side of a cell at 300 mm from the eye, and its limits: two pixels of the piece on the screen, and the number of cells. */
const CELL_MM = 0.5;
const VIEW_MM = 300;
const MIN_CELL_MM = 0.25;
const MAX_CELLS = 2e5;

/** What of the photo is lost, and where. */
export interface Fidelity {
  readonly report: NonNullable<Report["fidelity"]>;
  readonly map: FateMap;
}

/** The fate of each cell of the picture, as seen. */
export interface FateMap {
  readonly columns: number;
  readonly rows: number;
  /** Places in `fates`. */
  readonly fate: Uint8Array;
  /** Where the picture lies on the piece. */
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

type Sized = Pick<FateMap, "columns" | "rows">;

/**
 * Compare the distinctions of the photo as it came with those of the predicted piece, in small pictures of both.
 *
 * @param tones that details hold; undefined for a drawing
 */
export function measureFidelity(
  job: SettledJob,
  picture: PictureOnGrid,
  seen: PieceOnScreen,
  tones: readonly TonalResolution[] | undefined,
): Fidelity {
  const { placement } = picture.frame;
  const { pitch, viewDistanceMm } = job.options;
  const [widthMm, heightMm] = [placement.columns * pitch.alongMm, placement.rows * pitch.acrossMm];
  const cellMm = Math.max(
    MIN_CELL_MM,
    (CELL_MM * viewDistanceMm) / VIEW_MM,
    Math.sqrt((widthMm * heightMm) / MAX_CELLS),
  );
  const columns = Math.max(1, Math.round(widthMm / cellMm));
  const rows = Math.max(1, Math.round(heightMm / cellMm));
  const size = { columns, rows };
  const judged = judgedCells(picture, job.options, size);
  const fate = lostDistinctions(
    {
      ...{ columns, rows, cellMm, judged },
      photo: smallPicture(asItCame(picture), job, size),
      toned: smallPicture(picture, job, size),
      piece: smallPiece(seen, picture, job, size),
    },
    shownBy(job, tones),
  );
  const place = { leftMm: placement.left * pitch.alongMm, topMm: placement.top * pitch.acrossMm };
  // The others are in the luminance of the photo, and so among the fates.
  const merged = mergedColours(job, picture).filter(({ equallyLight }) => equallyLight);
  const colours = merged.reduce((sum, { share }) => sum + share, 0);
  return {
    report: { cellMm, ...sharesOf(fate, judged, colours) },
    map: { columns, rows, fate, ...place, widthMm, heightMm },
  };
}

/** @param colours share of the picture whose colour is lost */
function sharesOf(fate: Uint8Array, judged: Uint8Array, colours: number): Omit<Fidelity["report"], "cellMm"> {
  const total = Math.max(
    1,
    judged.reduce((sum, one) => sum + one, 0),
  );
  const counts = new Float64Array(fates.length);
  for (let i = 0; i < fate.length; i++) if (judged[i] === 1) counts[fate[i]]++;
  const shareOf = (one: Fate): number => counts[fates.indexOf(one)] / total;
  const [levels, bare, solid, faint] = [
    shareOf("levels"),
    shareOf("bare"),
    shareOf("solid"),
    shareOf("faint"),
  ];
  return {
    distinctShare: 1 - shareOf("plain"),
    lostShare: Math.min(1, levels + bare + solid + faint + colours),
    lost: { levels, bare, solid, faint, colours },
  };
}

function shownBy({ model, options }: SettledJob, tones: readonly TonalResolution[] | undefined): ShownBy {
  const { bare, solid, range, wantedByCode } = model;
  const rangeLightness = lightnessFromLuminance(range.lightest) - lightnessFromLuminance(range.darkest);
  return {
    ...{ bare, solid, twoTones: options.kind === "solid", viewing: viewingOf(options) },
    wanted: (luminance) => wantedByCode[Math.round(luminance * BRIGHTEST_CODE)],
    heldStep(sideMm) {
      const fitting = tones?.findLast(({ detailMm }) => detailMm <= sideMm) ?? tones?.[0];
      return fitting ? rangeLightness / Math.max(1, fitting.held - 1) : 0;
    },
  };
}

/** The picture without any adjustment of its tones. */
function asItCame({ photo, frame, bare }: PictureOnGrid): PictureOnGrid {
  const tones = Float32Array.from({ length: CODES }, (_, code) => linearFromSrgb(code / BRIGHTEST_CODE));
  return withPlanes({ photo, frame, bare, tones });
}

/** The mean luminance of the picture in each cell, as seen. */
function smallPicture(
  picture: PictureOnGrid,
  { options }: SettledJob,
  { columns, rows }: Sized,
): Float32Array {
  const frame = { ...picture.frame, columns, rows, placement: { left: 0, top: 0, columns, rows } };
  const asSeen = { ...options, mirror: false };
  return planeOfRows(gridRows({ ...picture, frame }, asSeen, createKernelMemory(), "box"), columns, rows);
}

/** The mean luminance factor of the predicted picture in each cell. */
function smallPiece(
  seen: PieceOnScreen,
  { frame }: PictureOnGrid,
  { memory }: SettledJob,
  { columns, rows }: Sized,
): Float32Array {
  const { placement } = frame;
  const along = seen.columns / frame.columns;
  const across = seen.rows / frame.rows;
  const window = {
    left: placement.left * along,
    top: placement.top * across,
    width: placement.columns * along,
    height: placement.rows * across,
  };
  const release = memory.mark();
  const small = resampledRows(
    {
      ...{ sourceColumns: seen.columns, sourceRows: seen.rows, window, columns, rows },
      ...{ filterAlong: "box", filterAcross: "box" },
    },
    sourceRowsOf(seen.values, seen.columns),
    memory,
  );
  const piece = planeOfRows(small, columns, rows);
  release();
  return piece;
}

/** 1 for each cell in the full picture: not in a border, outside an oval, or where the picture fades. */
function judgedCells(
  { frame }: PictureOnGrid,
  options: ResolvedOptions,
  { columns, rows }: Sized,
): Uint8Array {
  const judged = new Uint8Array(columns * rows).fill(1);
  const edge = edgeRowsOf(frame, { ...options, mirror: false });
  if (!edge) return judged;
  const { left, top, ...placed } = frame.placement;
  for (let y = 0, at = 0; y < rows; y++) {
    const shares = edge(top + Math.floor(((y + 0.5) * placed.rows) / rows));
    for (let x = 0; x < columns; x++, at++) {
      judged[at] = shares[left + Math.floor(((x + 0.5) * placed.columns) / columns)] === 1 ? 1 : 0;
    }
  }
  return judged;
}
