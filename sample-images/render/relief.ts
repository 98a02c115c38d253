import type { Vec3 } from "./vec.js";

/** Look of a tube or a ball in a relief. `u` runs along it in metres, `e` across it from −1 to 1. */
export interface ReliefMaterial {
  readonly colour: (x: number, y: number, u: number, e: number) => Vec3;
  /** Turns per metre of the lay of a rope; 0 for none. */
  readonly lay: number;
  readonly specular: number;
}

/**
 * What a camera straight in front of a wall sees: for every pixel the front and back height of the
 * topmost body above the wall, its normal and its place on the body. Metres, origin in the middle, y up.
 */
export class Relief {
  readonly front: Float32Array;
  readonly back: Float32Array;
  readonly normalX: Float32Array;
  readonly normalY: Float32Array;
  readonly u: Float32Array;
  readonly e: Float32Array;
  /** Index into `materials` plus one; 0 is the wall. */
  readonly owner: Uint8Array;

  constructor(
    readonly width: number,
    readonly height: number,
    readonly pxPerMetre: number,
    readonly materials: readonly ReliefMaterial[],
  ) {
    const count = width * height;
    this.front = new Float32Array(count);
    this.back = new Float32Array(count);
    this.normalX = new Float32Array(count);
    this.normalY = new Float32Array(count);
    this.u = new Float32Array(count);
    this.e = new Float32Array(count);
    this.owner = new Uint8Array(count);
  }

  /** A round bar from `a` to `b`; `u0` is its start along the rope it belongs to. */
  tube(a: Vec3, b: Vec3, r: number, material: number, u0 = 0): void {
    const dx = b[0] - a[0];
    const dy = b[1] - a[1];
    const flat = Math.sqrt(dx * dx + dy * dy) || 1e-9;
    const tx = dx / flat;
    const ty = dy / flat;
    this.#scan(
      Math.min(a[0], b[0]) - r,
      Math.max(a[0], b[0]) + r,
      Math.min(a[1], b[1]) - r,
      Math.max(a[1], b[1]) + r,
      (x, y, k) => {
        const s = (x - a[0]) * tx + (y - a[1]) * ty;
        const t = Math.min(Math.max(s / flat, 0), 1);
        const ox = x - a[0] - t * dx;
        const oy = y - a[1] - t * dy;
        const off = (ox * ox + oy * oy) / (r * r);
        if (off > 1) return;
        const e = (ty * ox - tx * oy) / r;
        this.#put(
          k,
          a[2] + t * (b[2] - a[2]),
          r * Math.sqrt(1 - off),
          ox / r,
          oy / r,
          u0 + t * flat,
          e,
          material,
        );
      },
    );
  }

  /** An ellipsoid of half-length `long` along the in-plane angle, half-width `wide` across and in depth. */
  ball(centre: Vec3, long: number, wide: number, angle: number, material: number): void {
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    this.#scan(centre[0] - long, centre[0] + long, centre[1] - long, centre[1] + long, (x, y, k) => {
      const p = ((x - centre[0]) * c + (y - centre[1]) * s) / long;
      const q = ((y - centre[1]) * c - (x - centre[0]) * s) / wide;
      const off = p * p + q * q;
      if (off > 1) return;
      const nx = (p * c) / long - (q * s) / wide;
      const ny = (p * s) / long + (q * c) / wide;
      const nz = Math.sqrt(1 - off) / wide;
      const size = 1 / Math.sqrt(nx * nx + ny * ny + nz * nz);
      this.#put(k, centre[2], wide * Math.sqrt(1 - off), nx * size, ny * size, p * long, q, material);
    });
  }

  /** A rope through points, its lay running on from piece to piece. */
  rope(points: readonly Vec3[], r: number, material: number): void {
    let u = 0;
    for (let i = 1; i < points.length; i++) {
      const a = points[i - 1];
      const b = points[i];
      this.tube(a, b, r, material, u);
      u += Math.hypot(b[0] - a[0], b[1] - a[1]);
    }
  }

  #put(
    k: number,
    z: number,
    half: number,
    nx: number,
    ny: number,
    u: number,
    e: number,
    material: number,
  ): void {
    if (z + half <= this.front[k]) return;
    this.front[k] = z + half;
    this.back[k] = z - half;
    this.normalX[k] = nx;
    this.normalY[k] = ny;
    this.u[k] = u;
    this.e[k] = e;
    this.owner[k] = material + 1;
  }

  #scan(
    x0: number,
    x1: number,
    y0: number,
    y1: number,
    visit: (x: number, y: number, k: number) => void,
  ): void {
    const { width, height, pxPerMetre } = this;
    const left = Math.max(0, Math.floor(x0 * pxPerMetre + width / 2));
    const right = Math.min(width - 1, Math.ceil(x1 * pxPerMetre + width / 2));
    const top = Math.max(0, Math.floor(height / 2 - y1 * pxPerMetre));
    const bottom = Math.min(height - 1, Math.ceil(height / 2 - y0 * pxPerMetre));
    for (let py = top; py <= bottom; py++) {
      const y = (height / 2 - py - 0.5) / pxPerMetre;
      for (let px = left; px <= right; px++) visit((px + 0.5 - width / 2) / pxPerMetre, y, py * width + px);
    }
  }
}
