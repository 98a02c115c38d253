import { hash, hashInt } from "./random.js";

const fade = (t: number): number => t * t * t * (t * (t * 6 - 15) + 10);

/** Dot product of the offset from a lattice point with that point's direction, one of a cube's twelve edges. */
const corner = (ix: number, iy: number, iz: number, x: number, y: number, z: number): number => {
  const k = hashInt(ix, iy, iz) & 15;
  const u = k < 8 ? x : y;
  const v = k < 4 ? y : k === 12 || k === 14 ? x : z;
  return ((k & 1) === 0 ? u : -u) + ((k & 2) === 0 ? v : -v);
};

/** Noise between the four corners of one face of the lattice cell. */
const face = (
  ix: number,
  iy: number,
  iz: number,
  x: number,
  y: number,
  z: number,
  u: number,
  v: number,
): number => {
  const a = corner(ix, iy, iz, x, y, z);
  const b = corner(ix + 1, iy, iz, x - 1, y, z);
  const c = corner(ix, iy + 1, iz, x, y - 1, z);
  const d = corner(ix + 1, iy + 1, iz, x - 1, y - 1, z);
  const low = a + u * (b - a);
  return low + v * (c + u * (d - c) - low);
};

/** Gradient noise, about −1..1, lattice period 1 (K. Perlin, "Improving noise", 2002). */
export const noise3 = (x: number, y: number, z: number): number => {
  const ix = Math.floor(x);
  const iy = Math.floor(y);
  const iz = Math.floor(z);
  const fx = x - ix;
  const fy = y - iy;
  const fz = z - iz;
  const u = fade(fx);
  const v = fade(fy);
  const near = face(ix, iy, iz, fx, fy, fz, u, v);
  return near + fade(fz) * (face(ix, iy, iz + 1, fx, fy, fz - 1, u, v) - near);
};

/** Smoothly interpolated lattice values, −1..1: cheaper than gradient noise, for two dimensions. */
export const noise2 = (x: number, y: number): number => {
  const ix = Math.floor(x);
  const iy = Math.floor(y);
  const u = fade(x - ix);
  const v = fade(y - iy);
  const a = hash(ix, iy);
  const b = hash(ix + 1, iy);
  const c = hash(ix, iy + 1);
  const d = hash(ix + 1, iy + 1);
  const top = a + u * (b - a);
  return 2 * (top + v * (c + u * (d - c) - top)) - 1;
};

/** Sum of `octaves` octaves of `noise2`, each half as strong, turned to hide the lattice. */
export const fbm2 = (x: number, y: number, octaves: number): number => {
  let sum = 0;
  let amplitude = 0.5;
  let px = x;
  let py = y;
  for (let i = 0; i < octaves; i++) {
    sum += amplitude * noise2(px, py);
    const turned = 1.6 * px + 1.2 * py + 17.3;
    py = 1.6 * py - 1.2 * px - 9.1;
    px = turned;
    amplitude *= 0.5;
  }
  return sum;
};

export const fbm3 = (x: number, y: number, z: number, octaves: number): number => {
  let sum = 0;
  let amplitude = 0.5;
  let f = 1;
  for (let i = 0; i < octaves; i++) {
    sum += amplitude * noise3(x * f + i * 7.1, y * f - i * 3.7, z * f + i * 1.9);
    f *= 2.03;
    amplitude *= 0.5;
  }
  return sum;
};

/** Octaves of 1 − |noise|: creases and crests, 0..1. */
export const ridged3 = (x: number, y: number, z: number, octaves: number): number => {
  let sum = 0;
  let amplitude = 0.5;
  let f = 1;
  for (let i = 0; i < octaves; i++) {
    sum += amplitude * (1 - Math.abs(noise3(x * f + i * 5.3, y * f + i * 2.9, z * f - i * 4.1)));
    f *= 2.1;
    amplitude *= 0.5;
  }
  return sum;
};
