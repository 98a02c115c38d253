import { fbm2 } from "./noise.js";
import { add, clamp, dot, mixVec, scale, smoothstep, type Vec3 } from "./vec.js";

export interface SkyOptions {
  readonly toSun: Vec3;
  readonly zenith: Vec3;
  readonly horizon: Vec3;
  /** Added round the sun. */
  readonly glow: Vec3;
  readonly cloudLit: Vec3;
  readonly cloudShade: Vec3;
  /** Noise level where cloud begins: 0.3 is a clear sky, −0.3 overcast. */
  readonly cloudStart: number;
  /** Shifts the cloud field. */
  readonly offset: readonly [number, number];
}

/** Sky radiance in direction `d`: a gradient, a glow and one layer of cloud lit from the sun's side. */
export const createSky = (o: SkyOptions): ((d: Vec3) => Vec3) => {
  const density = (x: number, y: number): number => {
    const bend = fbm2(x * 0.7 + 31, y * 0.7, 3);
    return fbm2(x + 0.9 * bend, y + 0.5 * bend, 7) + 0.25 * fbm2(x * 0.31 + 5, y * 0.31, 2);
  };
  return (d) => {
    const up = Math.max(d[1], 0);
    const clear = mixVec(o.horizon, o.zenith, 1 - Math.exp(-up * 3.6));
    const nearSun = clamp(dot(d, o.toSun));
    const base = add(clear, scale(o.glow, 0.35 * nearSun ** 6 + 0.65 * nearSun ** 60));
    const flat = 1 / (up + 0.13);
    const x = d[0] * flat * 0.95 + o.offset[0];
    const y = d[2] * flat * 0.95 + o.offset[1];
    const here = density(x, y);
    const cover = smoothstep(o.cloudStart, o.cloudStart + 0.28, here);
    if (cover === 0) return base;
    // Denser cloud towards the sun means that this part lies in its shade.
    const towardSun = density(x + o.toSun[0] * 0.22, y + o.toSun[2] * 0.22);
    const lit = clamp(0.62 + 1.5 * (here - towardSun) - 0.35 * (here - o.cloudStart));
    const silver = 1 + 0.6 * nearSun ** 8 * (1 - cover);
    const cloud = scale(mixVec(o.cloudShade, o.cloudLit, lit), silver);
    return mixVec(base, cloud, cover * smoothstep(0.01, 0.16, up) * 0.94);
  };
};
