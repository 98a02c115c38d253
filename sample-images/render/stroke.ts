import type { Image } from "./image.js";
import type { Vec3 } from "./vec.js";

/** One end of a stroke's piece: pixel position, half-width in pixels, depth in metres, colour. */
export interface StrokePoint {
  readonly x: number;
  readonly y: number;
  readonly halfWidth: number;
  readonly depth: number;
  readonly colour: Vec3;
}

/**
 * Paints a tapered segment with soft edges over the image. Pixels where `nearest` (depth in metres)
 * lies more than `slack` in front of the segment are left alone.
 */
export const paintSegment = (
  image: Image,
  nearest: Float32Array,
  slack: number,
  a: StrokePoint,
  b: StrokePoint,
  opacity: number,
): void => {
  const { width, height, data } = image;
  const margin = Math.max(a.halfWidth, b.halfWidth) + 1;
  const x0 = Math.max(0, Math.floor(Math.min(a.x, b.x) - margin));
  const x1 = Math.min(width - 1, Math.ceil(Math.max(a.x, b.x) + margin));
  const y0 = Math.max(0, Math.floor(Math.min(a.y, b.y) - margin));
  const y1 = Math.min(height - 1, Math.ceil(Math.max(a.y, b.y) + margin));
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const share = 1 / (dx * dx + dy * dy + 1e-6);
  for (let y = y0; y <= y1; y++) {
    for (let x = x0; x <= x1; x++) {
      const px = x + 0.5 - a.x;
      const py = y + 0.5 - a.y;
      const t = (px * dx + py * dy) * share;
      // Each segment owns its own stretch, so that joints are not painted twice.
      if (t < 0 || t > 1) continue;
      const gap = Math.abs(px * dy - py * dx) * Math.sqrt(share);
      const half = a.halfWidth + t * (b.halfWidth - a.halfWidth);
      const cover = Math.min(1, half + 0.5 - gap) * Math.min(1, 2 * half) * opacity;
      const k = y * width + x;
      if (cover <= 0 || a.depth + t * (b.depth - a.depth) > nearest[k] + slack) continue;
      for (let c = 0; c < 3; c++) {
        const colour = a.colour[c] + t * (b.colour[c] - a.colour[c]);
        data[3 * k + c] += cover * (colour - data[3 * k + c]);
      }
    }
  }
};
