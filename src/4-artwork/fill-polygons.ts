import type { Pitch } from "../core/plane.js";
import type { Polygon } from "./text-lines.js";

/** Where an outline crosses the middle of a row. */
interface Crossing {
  readonly x: number;
  /** 1 downwards, −1 upwards. */
  readonly turn: number;
}

/**
 * Fill one row of pixels: those whose middles lie inside the polygons, by the rule of non-zero winding, as fonts are drawn. Only
 * additions, multiplications and divisions, so that every computer fills the same pixels.
 *
 * @param yMm middle of the row
 * @param leftMm where the polygons' x = 0 lies in the row
 * @param out [columns] gets `value` at filled pixels
 */
export function fillRow(
  polygons: readonly Polygon[],
  [leftMm, yMm]: readonly [leftMm: number, yMm: number],
  pitch: Pitch,
  out: Float32Array,
  value: number,
): void {
  const crossings = polygons.flatMap((polygon) => crossingsOf(polygon, yMm)).sort((a, b) => a.x - b.x);
  let winding = 0;
  for (let i = 0; i + 1 < crossings.length; i++) {
    winding += crossings[i].turn;
    if (winding === 0) continue;
    // The middle of pixel k is at (k + 0.5) pitches.
    const from = Math.max(0, Math.ceil((leftMm + crossings[i].x) / pitch.alongMm - 0.5));
    const to = Math.min(out.length, Math.ceil((leftMm + crossings[i + 1].x) / pitch.alongMm - 0.5));
    if (from < to) out.fill(value, from, to);
  }
}

function crossingsOf(polygon: Polygon, y: number): Crossing[] {
  const crossings: Crossing[] = [];
  const count = polygon.length;
  for (let i = 0; i < count; i += 2) {
    const [x0, y0] = [polygon[i], polygon[i + 1]];
    const [x1, y1] = [polygon[(i + 2) % count], polygon[(i + 3) % count]];
    // An end belongs to one of two edges only.
    if (y0 <= y === y1 <= y) continue;
    crossings.push({ x: x0 + ((y - y0) / (y1 - y0)) * (x1 - x0), turn: y1 > y0 ? 1 : -1 });
  }
  return crossings;
}
