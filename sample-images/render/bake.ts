import type { Vec3 } from "./vec.js";

type Distance = (x: number, y: number, z: number) => number;

/**
 * Samples an expensive distance field on a grid of `cell` metres inside the box `low`..`high` and returns a
 * trilinear reading of it. Outside the box the reading at the nearest face is grown by the way there.
 */
export const bake = (distance: Distance, low: Vec3, high: Vec3, cell: number): Distance => {
  const nx = Math.ceil((high[0] - low[0]) / cell) + 1;
  const ny = Math.ceil((high[1] - low[1]) / cell) + 1;
  const nz = Math.ceil((high[2] - low[2]) / cell) + 1;
  const grid = new Float32Array(nx * ny * nz);
  for (let k = 0, i = 0; k < nz; k++) {
    for (let j = 0; j < ny; j++) {
      for (let n = 0; n < nx; n++, i++) {
        grid[i] = distance(low[0] + n * cell, low[1] + j * cell, low[2] + k * cell);
      }
    }
  }
  const layer = nx * ny;
  const [lx, ly, lz] = low;
  return (x, y, z) => {
    const gx = Math.min(Math.max((x - lx) / cell, 0), nx - 1.001);
    const gy = Math.min(Math.max((y - ly) / cell, 0), ny - 1.001);
    const gz = Math.min(Math.max((z - lz) / cell, 0), nz - 1.001);
    const ix = gx | 0;
    const iy = gy | 0;
    const iz = gz | 0;
    const u = gx - ix;
    const v = gy - iy;
    const w = gz - iz;
    const i = ix + iy * nx + iz * layer;
    const a = grid[i] + u * (grid[i + 1] - grid[i]);
    const b = grid[i + nx] + u * (grid[i + nx + 1] - grid[i + nx]);
    const c = grid[i + layer] + u * (grid[i + layer + 1] - grid[i + layer]);
    const d = grid[i + layer + nx] + u * (grid[i + layer + nx + 1] - grid[i + layer + nx]);
    const near = a + v * (b - a);
    const inside = near + w * (c + v * (d - c) - near);
    const ox = (x - lx) / cell - gx;
    const oy = (y - ly) / cell - gy;
    const oz = (z - lz) / cell - gz;
    const outside = ox * ox + oy * oy + oz * oz;
    return outside > 1e-3 ? inside + cell * Math.sqrt(outside) : inside;
  };
};
