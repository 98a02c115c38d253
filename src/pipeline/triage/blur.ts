import { medianOf } from "../../core/median.js";
import type { CellMap } from "./cell-map.js";
import { edgeWidths } from "./edge-width.js";
import { visitEdges } from "./edges.js";

/** Side of a region, in cells of the finest scale. */
const REGION_CELLS = 4;
/** A wider edge is measured at the next coarser scale, in pixels of the scale. */
const COARSER_FROM_PX = 6;
/** A narrower one at a coarser scale is none: it would be wide enough for the finer scale, so that it is texture which is too faint there. */
const NARROWEST_PX = 2.5;
/**
 * Regions this near to the sides of a picture do not count, as a share of its longer side: a date stamp or a frame is sharp there.
 * At most the second share of each side is left out.
 */
const BORDER = 0.1;
const MAX_BORDER = 0.2;
/** This share of the regions may be sharper than the result: a caption is, and a face before a soft background. */
const SHARPER = 0.15;
/** With fewer regions that have edges, nothing can be said. */
const MIN_REGIONS = 6;
/**
 * What is measured over the true blur. The edges of a photograph lie near others, and lines and textures are steeper for their
 * contrast than steps. Measured on the half of the photographs of `npm run bench:triage` on which thresholds were set.
 */
export const READING = 0.5;

/**
 * Blur of a picture, as the full width at half maximum of a Gaussian in pixels; undefined without edges.
 *
 * It is measured in regions, each at the finest scale that shows its edges whole: the median of its edges. The result is a
 * quantile of the regions, so that neither a few sharp things nor a soft background decide. Edges along rows and along columns are
 * measured apart, and the worse ones count: a moving camera blurs one direction only.
 *
 * @param maps of one picture, from its own scale to coarser ones
 * @param noise standard deviation of a pixel, in codes
 */
export function blurPx(maps: readonly CellMap[], noise: number): number | undefined {
  const { columns, rows } = maps[0];
  const regions = { columns: Math.ceil(columns / REGION_CELLS), rows: Math.ceil(rows / REGION_CELLS) };
  const widths = [0, 1].map(() => new Float64Array(regions.columns * regions.rows).fill(Number.NaN));
  const widthOf = edgeWidths();
  maps.forEach((map, scale) => {
    edgesByRegion(map, noise / 2 ** scale, regions, REGION_CELLS / 2 ** scale).forEach((edges, direction) => {
      for (const [region, slopes] of edges) {
        if (widths[direction][region] <= COARSER_FROM_PX * 2 ** (scale - 1)) continue;
        const width = widthOf(medianOf(slopes));
        if (scale === 0 || width >= NARROWEST_PX) widths[direction][region] = width * 2 ** scale;
      }
    });
  });
  const [along, across] = widths.map((list) => {
    const known = list.filter((width, i) => width >= 0 && isInside(i, regions)).sort();
    return known.length < MIN_REGIONS ? undefined : known[Math.floor(SHARPER * known.length)] / READING;
  });
  return along === undefined || across === undefined ? (along ?? across) : Math.max(along, across);
}

interface Regions {
  readonly columns: number;
  readonly rows: number;
}

type EdgesByRegion = Map<number, number[]>;

/**
 * Slopes over contrast of the edges of each region, of those along rows and of those along columns. A cell larger than a region
 * counts in all that it covers.
 */
function edgesByRegion(
  map: CellMap,
  noise: number,
  { columns, rows }: Regions,
  cellsOfRegion: number,
): readonly [along: EdgesByRegion, across: EdgesByRegion] {
  const both = [new Map(), new Map()] as const;
  const span = Math.max(1, Math.round(1 / cellsOfRegion));
  visitEdges(map, noise, (column, row, { isAlong, slopeOverContrast }) => {
    const edges: EdgesByRegion = both[isAlong ? 0 : 1];
    const [left, top] = [Math.floor(column / cellsOfRegion), Math.floor(row / cellsOfRegion)];
    for (let y = top; y < Math.min(rows, top + span); y++) {
      for (let x = left; x < Math.min(columns, left + span); x++) {
        const slopes = edges.get(y * columns + x);
        if (slopes) slopes.push(slopeOverContrast);
        else edges.set(y * columns + x, [slopeOverContrast]);
      }
    }
  });
  return both;
}

function isInside(region: number, { columns, rows }: Regions): boolean {
  const border = BORDER * Math.max(columns, rows);
  const fromSide = (at: number, count: number): boolean =>
    Math.min(at + 0.5, count - at - 0.5) >= Math.min(border, MAX_BORDER * count);
  return fromSide(region % columns, columns) && fromSide(Math.floor(region / columns), rows);
}
