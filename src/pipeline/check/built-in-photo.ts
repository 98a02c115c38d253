import { madePhoto } from "../../1-photo/made-photo.js";
import type { Photo } from "../../1-photo/photo.js";
import { luminanceFromLightness } from "../../core/physics/lightness.js";
import { srgbFromLinear } from "../../core/physics/transfer.js";

const COLUMNS = 360;
const HORIZON = 0.62;
/** The buoy: its middle and its radius, as shares of the width. */
const BUOY = { x: 0.46, y: 0.62, radius: 0.3 } as const;
/** Where the light comes from: from the left, from above and from the front. */
const LIGHT = [-0.55, -0.6, 0.58] as const;

/**
 * The photo of a check card if the user gives none: a buoy on the sea, with a clear sky, round shading from white to black, and
 * waves from broad to fine.
 *
 * @param aspect height over width
 */
export function builtInPhoto(aspect: number): Photo {
  const rows = Math.max(1, Math.round(COLUMNS * aspect));
  const codes = Uint16Array.from({ length: rows * COLUMNS }, (_, i) => {
    const [x, y] = [((i % COLUMNS) + 0.5) / COLUMNS, (Math.floor(i / COLUMNS) + 0.5) / COLUMNS];
    const lightness = buoyAt(x, y - (aspect - 1) / 2) ?? surroundingsAt(x, y / aspect);
    return Math.round(65535 * srgbFromLinear(luminanceFromLightness(lightness)));
  });
  return madePhoto(codes, rows, COLUMNS);
}

/** L* of the buoy, a ball in the light, with a dark band; undefined beside it. */
function buoyAt(x: number, y: number): number | undefined {
  const [u, v] = [(x - BUOY.x) / BUOY.radius, (y - BUOY.y) / BUOY.radius];
  const depth = 1 - u * u - v * v;
  if (depth < 0) return undefined;
  const facing = u * LIGHT[0] + v * LIGHT[1] + Math.sqrt(depth) * LIGHT[2];
  const shade = 6 + 92 * Math.max(0, facing);
  return Math.abs(v - 0.1) < 0.16 ? 0.45 * shade : shade;
}

/** L* of sky and sea. */
function surroundingsAt(x: number, down: number): number {
  if (down < HORIZON) return 96 - 30 * (down / HORIZON);
  const near = (down - HORIZON) / (1 - HORIZON);
  const waves = Math.sin(2 * Math.PI * (4 / (near + 0.12) + 2.5 * x * (1 - near)));
  return 58 - 30 * near + (6 + 10 * near) * waves;
}
