import { fender, furledSail, hull, paint, wheelhouse } from "../boats.js";
import { house, masonry, slab } from "../buildings.js";
import { createCamera } from "../camera.js";
import { renderImage } from "../image.js";
import { type Light, shade } from "../lighting.js";
import { fbm2 } from "../noise.js";
import type { Picture } from "../picture.js";
import { bar, hangingRope, place } from "../place.js";
import { createRandom } from "../random.js";
import { cylinder, sphere } from "../sdf.js";
import { createSky } from "../sky.js";
import { add, along, dot, mixVec, normalize, reflect, scale, smoothstep, type Vec3 } from "../vec.js";
import { waterNormal, waterReflectance } from "../water.js";
import { type Solid, World } from "../world.js";

const QUAY_X = 5.6;
const QUAY_TOP = 1.25;

const toSun = normalize([-0.62, 0.5, -0.5]);
const sky = createSky({
  toSun,
  zenith: [0.1, 0.23, 0.5],
  horizon: [0.66, 0.75, 0.83],
  glow: [0.5, 0.4, 0.25],
  cloudLit: [1.6, 1.5, 1.36],
  cloudShade: [0.4, 0.44, 0.52],
  cloudStart: -0.06,
  offset: [3.1, 8.4],
});

/** Two ridges of hills as seen from the water, hazier with distance; sky above them. */
const distance = (d: Vec3): Vec3 => {
  const azimuth = Math.atan2(d[0], d[2]);
  const far = 0.085 + 0.05 * fbm2(azimuth * 3.1 + 2, 1, 4) - 0.03 * azimuth;
  const near = 0.052 + 0.055 * fbm2(azimuth * 4.3, 9, 5) + 0.05 * azimuth;
  const above = sky([d[0], Math.abs(d[1]), d[2]]);
  const woods = 0.75 + 0.7 * fbm2(azimuth * 60, d[1] * 130, 4);
  const back = mixVec(
    above,
    scale([0.33, 0.4, 0.45], 0.95 + 0.1 * woods),
    smoothstep(far + 0.0015, far - 0.0015, d[1]),
  );
  const field = mixVec(scale([0.13, 0.17, 0.1], woods), [0.42, 0.47, 0.5], 0.42);
  return mixVec(back, field, smoothstep(near + 0.001, near - 0.001, d[1]));
};

const light: Light = {
  lamps: [{ toLamp: toSun, colour: [3.3, 2.75, 2.05], spread: 0.02 }],
  skyUp: [0.42, 0.52, 0.7],
  skySide: [0.36, 0.4, 0.46],
  ground: [0.1, 0.11, 0.1],
  reach: 1.2,
  environment: distance,
};

const tarredRope = paint([0.32, 0.26, 0.17], 0.01, 8);
const spar = paint([0.42, 0.24, 0.1], 0.05, 60);

const thwart = paint([0.55, 0.4, 0.22], 0.04, 40);

const fishingBoat = (at: Vec3, yaw: number, colour: Vec3, band: Vec3): Solid[] => {
  const rope = paint([0.12, 0.1, 0.08], 0.01, 8);
  const parts: Solid[] = [
    hull({ length: 6.4, beam: 2.3, freeboard: 0.95, draught: 0.45, sole: 0.5, paint: colour, band }),
    bar([0, 0.3, 1.5], [0, 4.6, 1.35], 0.065, 0.04, spar),
    bar([0, 1.75, 1.4], [0, 2.5, -2.3], 0.045, 0.03, spar),
    bar([0, 4.5, 1.35], [0, 1.35, 3.1], 0.011, 0.011, rope),
    bar([0, 4.5, 1.35], [0.98, 0.9, 0.5], 0.011, 0.011, rope),
    bar([0, 4.5, 1.35], [-0.98, 0.9, 0.5], 0.011, 0.011, rope),
    bar([0, 4.5, 1.35], [0, 2.5, -2.3], 0.009, 0.009, rope),
    bar([0, 2.4, -2.25], [0, 0.9, -3.1], 0.009, 0.009, rope),
  ];
  const cabin = wheelhouse(1.25, 1.45, 1.3);
  const fenders = [-1.1, 0.5].map((z) => place(fender(), [-1.22, 0.42, z], 0));
  return [...parts, place(cabin, [0, 0.5, -0.6], 0), ...fenders].map((s) => place(s, at, yaw));
};

const dinghy = (at: Vec3, yaw: number, colour: Vec3, band: Vec3): Solid[] =>
  [
    hull({ length: 3.3, beam: 1.35, freeboard: 0.45, draught: 0.2, sole: 0.06, paint: colour, band }),
    slab([0, 0.28, -0.35], [0.56, 0.02, 0.12], 0.015, thwart),
    slab([0, 0.28, 0.55], [0.46, 0.02, 0.11], 0.015, thwart),
    bar([-0.25, 0.4, -1.5], [-0.12, 0.42, 1.1], 0.022, 0.022, spar),
    bar([0.3, 0.4, -1.45], [0.1, 0.42, 1.15], 0.022, 0.022, spar),
  ].map((s) => place(s, at, yaw));

const sailingBoat = (at: Vec3, yaw: number, colour: Vec3): Solid[] => {
  const wire = paint([0.25, 0.25, 0.25], 0.2, 80);
  return [
    hull({
      length: 6.8,
      beam: 2.2,
      freeboard: 0.8,
      draught: 0.4,
      sole: 0.5,
      paint: colour,
      band: [0.05, 0.08, 0.16],
    }),
    bar([0, 0.2, 0.7], [0, 8.2, 0.5], 0.07, 0.045, spar),
    furledSail([0, 1.55, 0.55], [0, 1.6, -2.7], 0.17),
    bar([0, 8.1, 0.5], [0, 1.1, 3.3], 0.014, 0.014, wire),
    bar([0, 8.1, 0.5], [0, 0.8, -3.3], 0.014, 0.014, wire),
    bar([0, 6.6, 0.55], [1, 0.8, 0.2], 0.014, 0.014, wire),
    bar([0, 6.6, 0.55], [-1, 0.8, 0.2], 0.014, 0.014, wire),
    place(wheelhouse(1.2, 0.75, 1.6), [0, 0.55, -0.2], 0),
  ].map((s) => place(s, at, yaw));
};

const bollard = (x: number, z: number): Solid => ({
  centre: [x, QUAY_TOP + 0.25, z],
  radius: 0.45,
  distance: (px, py, pz) =>
    Math.min(
      cylinder(px - x, py - QUAY_TOP - 0.2, pz - z, 0.13, 0.24, 0.03),
      cylinder(px - x, py - QUAY_TOP - 0.44, pz - z, 0.19, 0.05, 0.045),
    ),
  material: paint([0.035, 0.035, 0.04], 0.06, 40),
});

const buoy = (x: number, z: number): Solid => ({
  centre: [x, 0.1, z],
  radius: 0.36,
  distance: (px, py, pz) =>
    Math.min(sphere(px - x, py - 0.06, pz - z, 0.24), cylinder(px - x, py - 0.3, pz - z, 0.035, 0.1, 0.02)),
  material: paint([0.62, 0.17, 0.03], 0.05, 90),
});

const creels = (x: number, z: number): Solid[] =>
  [
    [0, 0, 0],
    [0.75, 0, 0.1],
    [0.35, 0.42, 0.05],
  ].map(([dx, dy, dz]) =>
    slab([x + dx, QUAY_TOP + 0.21 + dy, z + dz], [0.34, 0.2, 0.26], 0.05, (p) => {
      const bars =
        Math.abs(Math.sin(p[0] * 42)) * Math.abs(Math.sin(p[1] * 42)) * Math.abs(Math.sin(p[2] * 42 + 1));
      return { albedo: scale([0.3, 0.2, 0.1], 0.25 + 0.9 * bars), specular: 0.01, shininess: 8 };
    }),
  );

const town = (): Solid[] => {
  const random = createRandom(41);
  const walls: Vec3[] = [
    [0.68, 0.64, 0.57],
    [0.56, 0.42, 0.31],
    [0.6, 0.56, 0.42],
    [0.42, 0.5, 0.54],
    [0.62, 0.46, 0.42],
  ];
  const houses: Solid[] = [];
  for (let x = -34, i = 0; x < 30; i++) {
    const width = 4 + 2.6 * random();
    const height = 3.4 + 3 * random();
    const roof = mixVec([0.22, 0.09, 0.06], [0.13, 0.13, 0.15], random());
    const turned = random() < 0.5;
    const shape = {
      width: turned ? 6 : width,
      height,
      depth: turned ? width : 6,
      wall: walls[i % 5],
      roof,
      seed: i,
    };
    houses.push(place(house(shape), [x + width / 2, 1.5, 55 + 5 * random()], turned ? Math.PI / 2 : 0));
    x += width + 0.3 + 2.2 * random();
  }
  return houses;
};

const stone = masonry(0.95, 0.42, 0.55);
const world = new World([
  ...fishingBoat([1.5, 0, 2.6], -2.28, [0.035, 0.1, 0.2], [0.72, 0.69, 0.62]),
  ...fishingBoat([3.1, 0, 13.5], 2.9, [0.3, 0.05, 0.035], [0.7, 0.66, 0.55]),
  ...dinghy([-3.55, 0, -1.2], 0.75, [0.72, 0.7, 0.64], [0.06, 0.17, 0.14]),
  ...sailingBoat([-5.4, 0, 11.5], 1.95, [0.74, 0.73, 0.7]),
  ...dinghy([-10.5, 0, 24], -1.2, [0.2, 0.28, 0.2], [0.6, 0.56, 0.45]),
  ...sailingBoat([-1.4, 0, 30], -1.8, [0.1, 0.2, 0.3]),
  ...hangingRope([-0.85, 1.28, 0.6], [-1.75, 0.2, -1.9], 0.12, 0.022, tarredRope),
  buoy(-1.8, -2),
  ...hangingRope([3.8, 0.85, 4.6], [5.9, QUAY_TOP + 0.32, 6.4], 0.2, 0.028, tarredRope),
  ...creels(6.3, 2.1),
  ...creels(6.6, 9.4),
  bollard(5.95, -1.6),
  bollard(5.95, 6.4),
  bollard(5.95, 14.5),
  slab([QUAY_X + 10, QUAY_TOP / 2 - 1, 14], [10, QUAY_TOP / 2 + 1, 24], 0.05, stone),
  slab([0, 0, 56], [60, 1.5, 6], 0.1, stone),
  place(
    house({ width: 5.4, height: 3, depth: 8, wall: [0.6, 0.55, 0.47], roof: [0.11, 0.1, 0.1], seed: 3 }),
    [10.4, QUAY_TOP, 20],
    0,
  ),
  slab([10.4, QUAY_TOP + 1.15, 15.98], [0.85, 1.15, 0.06], 0.02, paint([0.05, 0.13, 0.11])),
  slab([10.4, QUAY_TOP + 3.35, 15.95], [1.5, 0.3, 0.05], 0.02, paint([0.06, 0.1, 0.17])),
  ...town(),
]);

const camera = createCamera([-1.5, 2.9, -11], [0.7, 1.75, 6], 36);
const PIXEL = 6e-4;
const HAZE: Vec3 = [0.66, 0.72, 0.78];
const WATER_BODY: Vec3 = [0.012, 0.034, 0.036];

const throughHaze = (c: Vec3, metres: number): Vec3 => mixVec(c, HAZE, 1 - Math.exp(-metres / 420));

const solidLight = (o: Vec3, d: Vec3, far: number): { colour: Vec3; t: number } | undefined => {
  const hit = world.trace(o, d, far, PIXEL * 0.4);
  return hit && { colour: throughHaze(shade(world, light, o, d, hit, hit.t * PIXEL), hit.t), t: hit.t };
};

const radiance = (u: number, v: number): Vec3 => {
  const o = camera.position;
  const d = camera.ray(u, v);
  const toWater = d[1] < 0 ? -o[1] / d[1] : 400;
  const seen = solidLight(o, d, Math.min(toWater, 120));
  if (seen) return seen.colour;
  if (d[1] >= 0 || toWater > 120) return distance(d);

  const p = along(o, d, toWater);
  const n = waterNormal(p[0], p[2], 0.075, toWater * PIXEL * 1.5);
  const bounced = reflect(d, n);
  const up: Vec3 = normalize([bounced[0], Math.max(bounced[1], 0.004), bounced[2]]);
  const start: Vec3 = [p[0], 0.004, p[2]];
  const mirrored = solidLight(start, up, 90)?.colour ?? distance(up);
  const share = waterReflectance(Math.max(-dot(d, n), 0));
  const body = scale(WATER_BODY, 0.35 + 0.65 * world.light(start, toSun, 30, 0.06, 0.03));
  return throughHaze(add(scale(mirrored, 0.06 + 0.92 * share), body), toWater);
};

export const picture: Picture = {
  widthPx: 1600,
  heightPx: 1067,
  film: {
    exposure: -0.5,
    contrast: 1.5,
    white: 2.4,
    bloom: 0.06,
    vignette: 0.16,
    grain: 1.6,
    saturation: 0.95,
  },
  render: (width, height) => renderImage(width, height, 2, radiance),
};
