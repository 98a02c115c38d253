import type { ResponsePoints } from "../../src/core/material/response.js";
import { denseData } from "../../src/core/plane.js";
import type { PreparedPiece, PrepareOptions } from "../../src/index.js";
import { prepare } from "../support/prepare.js";
import { askReference } from "../support/reference.js";

/** A straight bar: its middle and direction (0° = along the lines), and its drawn size in mm. */
export interface Bar {
  readonly xMm: number;
  readonly yMm: number;
  readonly angleDeg: number;
  readonly widthMm: number;
  readonly lengthMm: number;
}

/** The results of tests/reference/edge_widths.py for one bar: mean width, distance of each edge outwards, share without a mark. */
export interface EngravedBar {
  readonly widthMm: number;
  readonly edgesMm: readonly [number, number];
  readonly cut: number;
}

const CELL_MM = 5;
const DRAWN_MM = 4;
/** The ends are omitted. */
const MEASURED_MM = 2.4;

/** Bars of every width in every direction, each in its own cell, at an arbitrary place relative to the grid. */
export function barsOf(widthsMm: readonly number[], anglesDeg: readonly number[]) {
  const bars: Bar[] = anglesDeg.flatMap((angleDeg, row) =>
    widthsMm.map((widthMm, column) => ({
      xMm: (column + 0.5) * CELL_MM + 0.0137 * (row + 1),
      yMm: (row + 0.5) * CELL_MM + 0.0213 * (column + 1),
      angleDeg,
      widthMm,
      lengthMm: MEASURED_MM,
    })),
  );
  return { bars, columnsMm: widthsMm.length * CELL_MM, rowsMm: anglesDeg.length * CELL_MM };
}

export type BarSheet = ReturnType<typeof barsOf>;

/** The bars as a drawing, in `ink` on `paper` (none: transparent). */
export function barDrawing({ bars, columnsMm, rowsMm }: BarSheet, ink: string, paper?: string): Buffer {
  const ground = paper === undefined ? "" : `<rect width="${columnsMm}" height="${rowsMm}" fill="${paper}"/>`;
  const drawn = bars.map(
    ({ xMm, yMm, angleDeg, widthMm }) =>
      `<rect x="${-DRAWN_MM / 2}" y="${-widthMm / 2}" width="${DRAWN_MM}" height="${widthMm}" transform="translate(${xMm} ${yMm}) rotate(${angleDeg})"/>`,
  );
  const size = `viewBox="0 0 ${columnsMm} ${rowsMm}" width="${10 * columnsMm}" height="${10 * rowsMm}"`;
  return Buffer.from(
    `<svg xmlns="http://www.w3.org/2000/svg" ${size}>${ground}<g fill="${ink}">${drawn.join("")}</g></svg>`,
  );
}

export interface BarJob {
  readonly response: ResponsePoints;
  readonly linesPerInch: number;
  readonly spotMm: number;
  readonly more?: PrepareOptions;
}

/** Prepare a drawing as solid artwork, as wide as it is drawn. */
export function engraveBars(drawing: Uint8Array, sheet: BarSheet, job: BarJob): Promise<PreparedPiece> {
  return prepare(drawing, {
    kind: "solid",
    widthMm: sheet.columnsMm,
    linesPerInch: job.linesPerInch,
    spotMm: job.spotMm,
    bitmapOnly: true,
    material: {
      name: "test surface",
      response: job.response.map(([dose, luminance]) => [dose, luminance]),
      bareColor: "#808080",
      markedColor: "#404040",
      source: "made up",
    },
    ...job.more,
  });
}

/** @param ink 1 if the bars are engraved, 0 if they are bare on an engraved ground */
export function measureBars(
  piece: PreparedPiece,
  sheet: BarSheet,
  job: BarJob,
  ink: 0 | 1 = 1,
): EngravedBar[] {
  const [found] = askReference<EngravedBar[][]>("edge_widths.py", {
    cases: [{ ...referenceCase(piece, sheet, job), ink }],
  });
  return found;
}

/** Largest rms difference in L* along an edge, by bar and distance, as an eye sees it. */
export function roughnessOfEdges(
  piece: PreparedPiece,
  sheet: BarSheet,
  job: BarJob,
  viewDistancesMm: readonly number[],
): number[][] {
  const [found] = askReference<number[][][]>("edge_roughness.py", {
    cases: [{ ...referenceCase(piece, sheet, job), viewDistancesMm }],
  });
  return found;
}

function referenceCase(piece: PreparedPiece, sheet: BarSheet, job: BarJob) {
  const { pitchAlongMm, pitchAcrossMm, columns, rows } = piece.report.job;
  const { firingLagUs = 0, speedMmPerS = 300, lineShiftMm = 0, oneWay = false } = job.more ?? {};
  const { spotMm } = job;
  const params = {
    ...{ pitchAlongMm, pitchAcrossMm, spotAlongMm: spotMm, spotAcrossMm: spotMm, response: job.response },
    ...{ firingLagUs, speedMmPerS, lineShiftMm, twoWay: !oneWay },
  };
  const bits = denseData(piece.bitmap);
  const burn = Buffer.from(bits.buffer, bits.byteOffset, bits.byteLength).toString("base64");
  return { params, columns, rows, burn, bars: sheet.bars };
}
