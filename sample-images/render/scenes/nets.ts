import type { Image } from "../image.js";
import { drapeNet } from "../net-drape.js";
import { fbm2, noise2 } from "../noise.js";
import type { Picture } from "../picture.js";
import { hash } from "../random.js";
import { Relief, type ReliefMaterial } from "../relief.js";
import { lightRelief, type ReliefLight, type Wall } from "../relief-light.js";
import { clamp, mix, mixVec, normalize, scale, smoothstep, type Vec3 } from "../vec.js";

const SUPERSAMPLE = 2;
/** Height of the stretch of wall in the picture, metres. */
const VIEW_HEIGHT = 1;
const BOARD = 0.148;

const light: ReliefLight = {
  toLamp: normalize([-0.62, 0.52, 0.6]),
  lamp: [2.5, 2.25, 1.85],
  spread: 0.028,
  sky: [0.5, 0.56, 0.66],
};

/** Height of the boards' surface, for their relief: grain, cracks, the edges of flaked paint. */
const boardHeight = (x: number, y: number, row: number): number => {
  const grain = fbm2(x * 5 + row * 13, y * 100 + row * 7, 3);
  const inBoard = y / BOARD - row;
  const edge = Math.min(inBoard, 1 - inBoard) * BOARD;
  return 0.0009 * grain + 0.0025 * paintCover(x, y, row) - 0.012 * smoothstep(0.006, 0.0005, edge);
};

const paintCover = (x: number, y: number, row: number): number =>
  smoothstep(
    -0.12,
    -0.06,
    fbm2(x * 4.5 + row * 3.1, y * 16, 5) + 0.3 * noise2(x * 1.3 + row * 5, y * 3) + 0.16,
  );

/** Weathered horizontal boards under thin pale-blue paint. */
const wall: Wall = (x, y) => {
  const row = Math.floor(y / BOARD);
  const e = 0.0006;
  const h = boardHeight(x, y, row);
  const normal = normalize([(h - boardHeight(x + e, y, row)) / e, (h - boardHeight(x, y + e, row)) / e, 1]);
  const grain = fbm2(x * 6 + row * 13, y * 110 + row * 7, 3);
  const wood = scale(
    mixVec([0.3, 0.26, 0.215], [0.17, 0.135, 0.105], clamp(0.5 + 1.3 * grain)),
    0.85 + 0.3 * hash(row, 3),
  );
  const paint = scale(
    [0.36, 0.44, 0.47],
    0.86 + 0.16 * hash(row, 8) + 0.12 * fbm2(x * 3, y * 9, 3) + 0.1 * grain,
  );
  const inBoard = y / BOARD - row;
  const gap = smoothstep(0.0035, 0.001, Math.min(inBoard, 1 - inBoard) * BOARD);
  const nailX = x / 0.42 + 0.37 - Math.round(x / 0.42 + 0.37);
  const nail = Math.hypot(nailX * 0.42, (Math.abs(inBoard - 0.5) - 0.32) * BOARD);
  const rust = smoothstep(0.0045, 0.003, nail);
  const run = smoothstep(0.006, 0, Math.abs(nailX * 0.42)) * 0.35 * (0.5 + noise2(x * 300, y * 12));
  const dry = mixVec(mixVec(wood, paint, paintCover(x, y, row)), [0.2, 0.1, 0.05], clamp(run));
  return { albedo: mixVec(mixVec(dry, [0.09, 0.045, 0.03], rust), [0.012, 0.011, 0.01], gap), normal };
};

const twine = (colour: Vec3): ReliefMaterial => ({
  colour: (x, y) => scale(colour, 0.85 + 0.35 * noise2(x * 60, y * 60)),
  lay: 0,
  specular: 0,
});
const rope = (colour: Vec3, lay: number): ReliefMaterial => ({
  colour: (x, y, u, e) => scale(colour, 0.9 + 0.2 * noise2(u * 900, e * 9) + 0.2 * noise2(x * 25, y * 25)),
  lay,
  specular: 0,
});
const painted = (colour: Vec3, specular: number): ReliefMaterial => ({
  colour: (x, y) => {
    const worn = smoothstep(0.1, 0.22, fbm2(x * 45, y * 45, 4));
    const band = mixVec(colour, [0.36, 0.27, 0.18], worn);
    return scale(band, 0.9 + 0.2 * fbm2(x * 160, y * 160, 3));
  },
  lay: 0,
  specular,
});
const glass: ReliefMaterial = {
  colour: (_x, _y, u, e) => {
    // Light gathers on the side away from the lamp.
    const far = Math.exp(-(((u / 0.085 - 0.45) ** 2 + (e + 0.45) ** 2) * 3.2));
    return mixVec([0.025, 0.085, 0.07], [0.35, 0.75, 0.6], clamp(far));
  },
  lay: 0,
  specular: 1.6,
};
const MATERIALS = [
  twine([0.42, 0.17, 0.07]),
  rope([0.5, 0.39, 0.24], 26),
  painted([0.58, 0.13, 0.04], 0.12),
  painted([0.66, 0.61, 0.5], 0.08),
  rope([0.55, 0.44, 0.28], 19),
  glass,
  rope([0.2, 0.15, 0.1], 70),
  painted([0.1, 0.075, 0.055], 0.05),
] as const;
const [TWINE, HEAD_ROPE, RED, CREAM, COIL, GLASS, LASHING, PEG] = MATERIALS.keys();

/** Pegs that carry the head rope. */
const PEGS: readonly Vec3[] = [
  [-0.93, 0.36, 0.035],
  [-0.46, 0.405, 0.04],
  [0.24, 0.39, 0.04],
];

/** Sags between the pegs; t in 0..1 over the whole rope. */
const headRope = (t: number): Vec3 => {
  const span = t < 0.4 ? 0 : 1;
  const s = span === 0 ? t / 0.4 : (t - 0.4) / 0.6;
  const [a, b] = [PEGS[span], PEGS[span + 1]];
  const sag = span === 0 ? 0.09 : 0.15;
  const [x, y, z] = mixVec(a, b, s);
  return [x, y - 4 * sag * s * (1 - s), z + 0.004 * Math.sin(40 * t)];
};

/** Places where a cord from a peg gathers the net up. */
const TUCKS = [
  { column: 20, row: 31, place: [-0.45, -0.14, 0.09], peg: 1 },
  { column: 57, row: 27, place: [0.2, -0.06, 0.085], peg: 2 },
] as const;

const hangNet = (relief: Relief): void => {
  const net = drapeNet({
    columns: 62,
    rows: 40,
    barLength: 0.031,
    headRope,
    ties: TUCKS.flatMap(({ column, row, place }) => [0, 1].map((i) => [column + i, row + i, place] as const)),
    clearance: 0.004,
  });
  const knot = (k: number): Vec3 => [net.knots[3 * k], net.knots[3 * k + 1], net.knots[3 * k + 2]];
  for (let b = 0; b < net.bars.length; b += 2) {
    relief.tube(knot(net.bars[b]), knot(net.bars[b + 1]), 0.00105, TWINE);
  }
  for (let k = net.columns; k < net.columns * net.rows; k++) {
    relief.ball(knot(k), 0.0031, 0.0023, 6.28 * hash(k, 1), TWINE);
  }
  for (const { place, peg } of TUCKS) {
    relief.rope([PEGS[peg], [place[0], place[1], place[2] + 0.01]], 0.0034, LASHING);
    for (let i = 0; i < 4; i++)
      relief.ball([place[0], place[1] - 0.006 * i, place[2] + 0.012], 0.017, 0.0042, 0.1, LASHING);
  }
  for (let i = 0; i < net.columns; i++) relief.ball(knot(i), 0.0105, 0.004, Math.PI / 2 + 0.3, LASHING);
};

const stringFloats = (relief: Relief): void => {
  const points = Array.from({ length: 161 }, (_, i) => headRope(i / 160));
  relief.rope(points, 0.0068, HEAD_ROPE);
  const places = [0.1, 0.2, 0.3, 0.48, 0.575, 0.67, 0.765, 0.86];
  for (const [i, t] of places.entries()) {
    const [x, y, z] = headRope(t);
    const ahead = headRope(t + 0.01);
    const angle = Math.atan2(ahead[1] - y, ahead[0] - x) + 0.12 * (hash(i, 4) - 0.5);
    relief.ball([x, y - 0.004, z + 0.016], 0.05, 0.03, angle, i % 3 === 1 ? RED : CREAM);
    for (const side of [-0.0485, 0.0485]) {
      relief.ball(
        [x + side * Math.cos(angle), y - 0.004 + side * Math.sin(angle), z + 0.014],
        0.0095,
        0.009,
        angle,
        HEAD_ROPE,
      );
    }
  }
  for (const [x, y, z] of PEGS) {
    relief.tube([x, y - 0.004, z - 0.02], [x + 0.004, y + 0.03, z + 0.045], 0.016, PEG);
    relief.ball([x + 0.004, y + 0.03, z + 0.05], 0.021, 0.02, 0, PEG);
  }
};

/** A coil hung on its own peg: loops of one rope, lashed together at the top. */
const hangCoil = (relief: Relief): void => {
  const top: Vec3 = [0.53, 0.36, 0.03];
  const loops = 9;
  const steps = 90;
  const points: Vec3[] = [];
  for (let i = 0; i <= loops * steps; i++) {
    const loop = i / steps;
    const a = 2 * Math.PI * loop;
    const spread = 0.088 + 0.038 * noise2(loop * 0.9, 3) + 0.004 * Math.sin(5 * a);
    const drop = 0.255 + 0.045 * noise2(Math.floor(loop + 0.5) * 1.7, 8);
    const pear = 1 - 0.42 * Math.cos(a);
    points.push([
      top[0] + spread * pear * Math.sin(a) + 0.012 * noise2(loop * 2.3, 14),
      top[1] - drop * (1 - Math.cos(a)),
      top[2] + 0.03 + 0.028 * noise2(loop * 1.4 + 3, 21) + 0.004 * loop,
    ]);
  }
  relief.rope(points, 0.0088, COIL);
  const tail = Array.from({ length: 40 }, (_, i): Vec3 => {
    const s = i / 39;
    return [top[0] + 0.05 + 0.03 * Math.sin(4 * s), top[1] - 0.1 - 0.8 * s, 0.07 - 0.03 * s];
  });
  relief.rope(tail, 0.0088, COIL);
  for (let i = 0; i < 6; i++) {
    const y = top[1] - 0.085 - 0.0155 * i;
    relief.rope(
      [
        [top[0] - 0.058, y + 0.004, 0.075],
        [top[0] - 0.03, y, 0.098],
        [top[0] + 0.035, y - 0.004, 0.098],
        [top[0] + 0.066, y, 0.075],
      ],
      0.0082,
      COIL,
    );
  }
  relief.tube([top[0], top[1] - 0.01, 0.02], [top[0] + 0.004, top[1] + 0.028, 0.1], 0.017, PEG);
  relief.ball([top[0] + 0.004, top[1] + 0.03, 0.1], 0.022, 0.021, 0, PEG);
};

/** A glass float in its own lashing of cord. */
const hangGlass = (relief: Relief): void => {
  const c: Vec3 = [0.315, -0.27, 0.085];
  const r = 0.085;
  relief.ball(c, r, r, 0, GLASS);
  for (let m = 0; m < 8; m++) {
    const lean = Math.PI * (m / 8);
    const points = Array.from({ length: 33 }, (_, i): Vec3 => {
      const polar = Math.PI * (i / 32);
      const ring = (r + 0.002) * Math.sin(polar);
      return [
        c[0] + ring * Math.cos(lean + 0.9 * Math.cos(polar)),
        c[1] + (r + 0.002) * Math.cos(polar),
        c[2] + ring * Math.sin(lean + 0.9 * Math.cos(polar)),
      ];
    });
    relief.rope(points, 0.0026, LASHING);
  }
  for (const h of [-0.5, 0.45]) {
    const ring = (r + 0.003) * Math.sqrt(1 - h * h);
    const points = Array.from({ length: 33 }, (_, i): Vec3 => {
      const a = Math.PI * (i / 32);
      return [c[0] + ring * Math.cos(a), c[1] + r * h - 0.006 * Math.sin(a), c[2] + ring * Math.sin(a)];
    });
    relief.rope(points, 0.0026, LASHING);
  }
  relief.rope(
    [
      [c[0], c[1] + r, c[2]],
      [c[0] - 0.01, c[1] + 0.3, 0.06],
      [0.245, 0.38, 0.05],
    ],
    0.0036,
    LASHING,
  );
};

const render = (width: number, height: number): Image => {
  const relief = new Relief(
    width * SUPERSAMPLE,
    height * SUPERSAMPLE,
    (height * SUPERSAMPLE) / VIEW_HEIGHT,
    MATERIALS,
  );
  hangNet(relief);
  stringFloats(relief);
  hangCoil(relief);
  hangGlass(relief);
  const image = lightRelief(relief, wall, light, SUPERSAMPLE);
  // The eaves shade the top of the wall, and the light falls off towards the right.
  for (let i = 0; i < width * height; i++) {
    const u = (i % width) / width;
    const v = Math.floor(i / width) / height;
    const fall =
      mix(1.08, 0.62, smoothstep(0, 1.1, u * 0.75 + v * 0.45)) * mix(0.8, 1, smoothstep(0, 0.1, v));
    for (let c = 0; c < 3; c++) image.data[3 * i + c] *= fall;
  }
  return image;
};

export const picture: Picture = {
  widthPx: 1500,
  heightPx: 1000,
  film: {
    exposure: -0.05,
    contrast: 1.3,
    white: 2.3,
    bloom: 0.04,
    vignette: 0.2,
    grain: 0.5,
    saturation: 0.92,
  },
  render,
};
