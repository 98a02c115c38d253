import { Matrix, solve } from "ml-matrix";
import { cubicTerms } from "../core/cubic-terms.js";
import { type CardView, inPicture } from "./card-view.js";
import { type LightPlane, lightAt } from "./light-plane.js";

/** A bare place on a card, in mm. */
export interface BarePlace {
  readonly xMm: number;
  readonly yMm: number;
  /** Ln light there less what the smooth surface of light says. */
  readonly residual: number;
}

/** How the light of bare places follows what lies round them. A surface does not: a camera that evens out tones does. */
export interface ToneMapping {
  /** Change of ln light of a bare place with ln mean light round it; below 0 where dark surroundings are lifted. */
  readonly slope: number;
  /** Share of the variance of the residuals that this explains, 0..1. */
  readonly explained: number;
}

/** How far a neighbourhood reaches: modes of cameras differ. */
const REACHES_MM = [2.5, 5, 10];

/** The reach that explains most. */
export function toneMapping(
  picture: LightPlane,
  view: CardView,
  size: { readonly widthMm: number; readonly heightMm: number },
  places: readonly BarePlace[],
): ToneMapping {
  const meanLight = neighbourhoods(picture, view, size);
  const terms = places.map(({ xMm, yMm }) =>
    cubicTerms((2 * xMm) / size.widthMm - 1, (2 * yMm) / size.heightMm - 1),
  );
  const residuals = withoutTerms(
    terms,
    places.map(({ residual }) => residual),
  );
  return REACHES_MM.map((reachMm) => {
    const surroundings = withoutTerms(
      terms,
      places.map(({ xMm, yMm }) => Math.log(meanLight(xMm, yMm, reachMm))),
    );
    const [own, both, all] = [
      product(surroundings, surroundings),
      product(surroundings, residuals),
      product(residuals, residuals),
    ];
    return { slope: both / own, explained: (both * both) / (own * all) };
  }).reduce((best, each) => (each.explained > best.explained ? each : best));
}

const product = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, each, k) => sum + each * b[k], 0);

/** What a smooth surface over the card does not explain. */
function withoutTerms(terms: readonly number[][], values: readonly number[]): number[] {
  const matrix = new Matrix([...terms]);
  const surface = matrix.mmul(solve(matrix, Matrix.columnVector([...values]), true)).getColumn(0);
  return values.map((value, k) => value - surface[k]);
}

const STEP_MM = 0.5;
const DARKEST = 1e-4;

/** Mean light of the squares round places, from a table of sums over the card and what lies beside it. */
function neighbourhoods(
  picture: LightPlane,
  view: CardView,
  { widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number },
) {
  const margin = Math.max(...REACHES_MM);
  const [columns, rows] = [widthMm, heightMm].map((sideMm) => Math.ceil((sideMm + 2 * margin) / STEP_MM));
  const stride = columns + 1;
  // Places outside the picture are left out of the means.
  const sums = new Float64Array(stride * (rows + 1));
  const counts = new Float64Array(stride * (rows + 1));
  for (let y = 0; y < rows; y++) {
    let [row, count] = [0, 0];
    for (let x = 0; x < columns; x++) {
      const light = lightAt(
        picture,
        inPicture(view, [(x + 0.5) * STEP_MM - margin, (y + 0.5) * STEP_MM - margin]),
      );
      if (!Number.isNaN(light)) {
        row += light;
        count++;
      }
      const at = (y + 1) * stride + x + 1;
      sums[at] = sums[at - stride] + row;
      counts[at] = counts[at - stride] + count;
    }
  }
  return (xMm: number, yMm: number, reachMm: number): number => {
    const [left, right] = [xMm - reachMm, xMm + reachMm].map((mm) => Math.round((mm + margin) / STEP_MM));
    const [top, below] = [yMm - reachMm, yMm + reachMm].map((mm) => Math.round((mm + margin) / STEP_MM));
    const over = (table: Float64Array): number =>
      table[below * stride + right] -
      table[top * stride + right] -
      table[below * stride + left] +
      table[top * stride + left];
    return Math.max(DARKEST, over(sums) / over(counts));
  };
}
