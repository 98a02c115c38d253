import { type CardView, inPicture, type Point } from "./card-view.js";
import { type LightPlane, lightAt } from "./light-plane.js";

/** A card that lies in a picture, and the light on it. */
export interface LitCard {
  readonly picture: LightPlane;
  readonly view: CardView;
  readonly widthMm: number;
  readonly heightMm: number;
  /** Light of a bare surface at shares of the card's sides, −1 to 1. */
  readonly bareLight: (x: number, y: number) => number;
}

/** How bright the paper beside a card is. */
export type PaperFound =
  | { readonly is: "found"; readonly lnOverBare: number }
  | { readonly is: "missing" }
  | { readonly is: "not-alone" };

/** Paper is looked for from here to there outside of the frame: nearer lies the rim of the card, farther the light is not known. */
const [NEAR_MM, FAR_MM] = [2, 15];
const CELL_MM = 1;
/** Paper is brighter than the bare surface by so much, as ln. */
const LEAST_BRIGHTER = 0.1;
/** Places of a cell differ by no more than this share: paper has no grain. */
const MOST_TEXTURE = 0.05;
const WHITE = 0.98;
/** Cells of one paper are alike within this, as ln, and so many are enough: a square cm. */
const [ALIKE, LEAST_CELLS] = [0.04, 100];

/**
 * The paper beside a card: the largest even area outside the frame that is brighter than the bare surface. Another bright area half as
 * large makes it doubtful which of them is the paper.
 */
export function paperBeside(card: LitCard): PaperFound {
  const cells = cellsBeside(card);
  const brighter = cells.filter(Number.isFinite).sort((a, b) => a - b);
  const paper = largestGroup(brighter);
  const clipped = cells.length - brighter.length;
  if (paper.length < LEAST_CELLS || clipped > paper.length / 2) return { is: "missing" };
  const [least, most] = [paper[0] - ALIKE, paper[paper.length - 1] + ALIKE];
  const other = largestGroup(brighter.filter((each) => each < least || each > most));
  if (other.length > paper.length / 2) return { is: "not-alone" };
  return { is: "found", lnOverBare: paper[Math.floor(paper.length / 2)] };
}

/** The most values that lie within `ALIKE` of each other. */
function largestGroup(sorted: readonly number[]): readonly number[] {
  let best = { from: 0, to: 0 };
  let from = 0;
  for (let to = 1; to <= sorted.length; to++) {
    while (sorted[to - 1] - sorted[from] > ALIKE) from++;
    if (to - from > best.to - best.from) best = { from, to };
  }
  return sorted.slice(best.from, best.to);
}

/** Ln light over that of a bare surface there, of even cells outside the frame that are brighter than it; Infinity for clipped ones. */
function cellsBeside(card: LitCard): number[] {
  const { widthMm, heightMm } = card;
  const cells: number[] = [];
  for (let y = -FAR_MM; y < heightMm + FAR_MM; y += CELL_MM) {
    for (let x = -FAR_MM; x < widthMm + FAR_MM; x += CELL_MM) {
      const outMm = Math.max(-x, x - widthMm, -y, y - heightMm);
      if (outMm < NEAR_MM) continue;
      const light = evenLightAt(card, [x, y]);
      const lnOverBare = Math.log(light / bareBeside(card, [x, y]));
      if (lnOverBare > LEAST_BRIGHTER) cells.push(lnOverBare);
    }
  }
  return cells;
}

const OFFSETS = [-0.3, 0, 0.3];

/** Mean light of a cell; NaN if it is not even, or outside the picture; Infinity if it is clipped. */
function evenLightAt({ picture, view }: LitCard, [x, y]: Point): number {
  const lights = OFFSETS.flatMap((right) =>
    OFFSETS.map((down) => lightAt(picture, inPicture(view, [x + right * CELL_MM, y + down * CELL_MM]))),
  );
  if (Math.max(...lights) >= WHITE) return Number.POSITIVE_INFINITY;
  const mean = lights.reduce((sum, each) => sum + each, 0) / lights.length;
  const squares = lights.reduce((sum, each) => sum + (each - mean) ** 2, 0) / lights.length;
  return Math.sqrt(squares) < MOST_TEXTURE * mean ? mean : Number.NaN;
}

/** Light of a bare surface beside the card: a parabola through the light at both ends and in the middle. A cubic would bend away. */
function bareBeside({ widthMm, heightMm, bareLight }: LitCard, [xMm, yMm]: Point): number {
  const [x, y] = [(2 * xMm) / widthMm - 1, (2 * yMm) / heightMm - 1];
  const [edgeX, edgeY] = [x, y].map((each) => Math.min(1, Math.max(-1, each)));
  const lnBare = (u: number, v: number): number => Math.log(bareLight(u, v));
  const here = lnBare(edgeX, edgeY);
  const along = beyond(Math.abs(x - edgeX), here, lnBare(0, edgeY), lnBare(-edgeX, edgeY));
  const across = beyond(Math.abs(y - edgeY), here, lnBare(edgeX, 0), lnBare(edgeX, -edgeY));
  return Math.exp(here + along + across);
}

/** Change of a parabola so far beyond an end, from its values there, in the middle, and at the other end. */
const beyond = (far: number, end: number, middle: number, otherEnd: number): number =>
  far * (end - middle) + ((far * (far + 1)) / 2) * (end - 2 * middle + otherEnd);
