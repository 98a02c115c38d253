import { lengthWords, type ShownUnits } from "../../core/shown-units.js";
import type { ReportPlaced } from "../report.js";
import { mm, type Point, type Surface } from "./unrolled-surface.js";

/** Surface that is drawn beyond the picture where the piece's end is not known, as a share of the picture's height. */
const OPEN_SHARE = 0.3;
/** Height of a letter as a share of the drawing's width, and room for labels in letters. */
const LETTER = 1 / 28;
const LABEL_ROOM = 2;
/** Points of an edge: enough for any arc. */
const EDGE_POINTS = 73;

/** The unrolled surface from rim to foot, with the picture in its place. An end that is not known is dashed. */
export function placeDrawing(
  surface: Surface,
  placed: ReportPlaced,
  heightMm: number,
  units: ShownUnits,
): string {
  const { fromRim, wall } = placed;
  const openMm = OPEN_SHARE * heightMm;
  const topMm = fromRim ? Math.min(0, fromRim.bitmapMm) : -openMm;
  const bottomMm = wall?.lengthMm ?? (fromRim?.bitmapMm ?? 0) + heightMm + openMm;
  const [top, bottom] = [edgeOf(surface, topMm), edgeOf(surface, bottomMm)];
  const outline = [...top, ...bottom.toReversed()];
  const box = boxRound(outline);
  const letterMm = LETTER * box.width;
  const roomMm = LABEL_ROOM * letterMm;
  const view = [box.left - letterMm, box.top - roomMm, box.width + 2 * letterMm, box.height + 2 * roomMm];
  const dashes = ` stroke-dasharray="${mm(letterMm / 3)}"`;
  const lines = [
    stroke(top, fromRim ? "" : dashes),
    stroke(bottom, wall ? "" : dashes),
    stroke([top[0], bottom[0]]),
    stroke([top[EDGE_POINTS - 1], bottom[EDGE_POINTS - 1]]),
    fromRim ? stroke([0, fromRim.pictureMm].map((downMm) => surface.at(placed.angleDeg, downMm))) : "",
  ];
  const labels = [
    ...endLabels(surface, placed, { topMm, bottomMm, letterMm }),
    offsetLabel(surface, placed, letterMm, units),
  ];
  return `<svg viewBox="${view.map(mm).join(" ")}" font-size="${mm(letterMm)}" role="img" aria-label="The unrolled surface of the piece, cut open at your mark, with the picture in its place."><clipPath id="wall"><path d="${pathOf(outline)}Z"/></clipPath><g clip-path="url(#wall)">${turnsOf(placed).map(surface.picture).join("")}</g><g fill="none" stroke="currentColor" stroke-width="${mm(letterMm / 12)}">${lines.join("")}</g>${labels.join("")}</svg>`;
}

const edgeOf = ({ at }: Surface, downMm: number): Point[] =>
  Array.from({ length: EDGE_POINTS }, (_, k) => at((360 * k) / (EDGE_POINTS - 1), downMm));

const pathOf = (points: readonly Point[]): string =>
  `M${points.map((point) => point.map(mm).join(" ")).join("L")}`;
const stroke = (points: readonly Point[], attributes = ""): string =>
  `<path d="${pathOf(points)}"${attributes}/>`;

interface Lettering {
  readonly topMm: number;
  readonly bottomMm: number;
  readonly letterMm: number;
}

/** The mark at the corners that stand out, so that no edge passes a label; rim and foot, and the picture's angle. */
function endLabels(
  { at, widens }: Surface,
  placed: ReportPlaced,
  { topMm, bottomMm, letterMm }: Lettering,
): string[] {
  const { angleDeg, fromRim, wall } = placed;
  const above = (deg: number) => at(deg, topMm - 0.5 * letterMm);
  const below = (deg: number) => at(deg, bottomMm + 1.2 * letterMm);
  // The other side of the piece, away from the corners.
  const oppositeDeg = Math.min(300, Math.max(60, (angleDeg + 180) % 360));
  return [
    widens ? label(above(0), "0° (mark)", "end") : label(below(0), "0° (mark)", "start"),
    widens ? label(above(360), "360°", "start") : label(below(360), "360°", "end"),
    angleDeg > 0 ? label(above(angleDeg), `${shortDigits(angleDeg)}°`) : "",
    fromRim ? label(above(oppositeDeg), "rim") : "",
    wall ? label(below(oppositeDeg), "foot") : "",
  ];
}

/** The distance from the rim, beside its line. */
function offsetLabel(
  { at }: Surface,
  { angleDeg, fromRim }: ReportPlaced,
  letterMm: number,
  units: ShownUnits,
): string {
  if (!fromRim || fromRim.pictureMm < letterMm) return "";
  const [x, y] = at(angleDeg, fromRim.pictureMm / 2);
  const isLast = angleDeg > 300;
  const aside: Point = [x + (isLast ? -0.5 : 0.5) * letterMm, y + letterMm / 3];
  return label(aside, lengthWords(fromRim.pictureMm, units, 2), isLast ? "end" : "start");
}

const label = ([x, y]: Point, text: string, anchor: "start" | "middle" | "end" = "middle"): string =>
  `<text x="${mm(x)}" y="${mm(y)}" text-anchor="${anchor}">${text}</text>`;

const shortDigits = (value: number): string => String(Number(value.toFixed(2)));

/** The angles at which to draw the picture. One that crosses the mark is seen at both ends. */
function turnsOf({ angleDeg, turnDeg }: ReportPlaced): number[] {
  return [angleDeg - 360, angleDeg, angleDeg + 360].filter(
    (each) => each + turnDeg / 2 > 0 && each - turnDeg / 2 < 360,
  );
}

function boxRound(points: readonly Point[]) {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  return { left, top, width: Math.max(...xs) - left, height: Math.max(...ys) - top };
}
