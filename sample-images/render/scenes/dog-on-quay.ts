import { hull, paint, wheelhouse } from "../boats.js";
import { masonry, slab } from "../buildings.js";
import { createCamera } from "../camera.js";
import { addGlints, defocus } from "../defocus.js";
import { dogCoat, dogSkin, dogTrim } from "../dog.js";
import { paintFur, turnCoat } from "../fur.js";
import { createImage, type Image, readImage, renderImage } from "../image.js";
import { type Light, shade } from "../lighting.js";
import { fbm2 } from "../noise.js";
import type { Picture } from "../picture.js";
import { bar, place } from "../place.js";
import { createRandom } from "../random.js";
import { cylinder, torus } from "../sdf.js";
import { createSky } from "../sky.js";
import { add, along, clamp, dot, mixVec, normalize, reflect, scale, smoothstep, type Vec3 } from "../vec.js";
import { waterNormal, waterReflectance } from "../water.js";
import { type Solid, World } from "../world.js";

const DOG_YAW = 0.33;
/** Distance in focus and lens opening: the dog's eyes are sharp, the harbour melts. */
const FOCUS = 3.25;
const APERTURE = 0.075;

const toSun = normalize([0.72, 0.42, 0.5]);
const sky = createSky({
  toSun,
  zenith: [0.16, 0.3, 0.55],
  horizon: [0.8, 0.62, 0.43],
  glow: [1.1, 0.75, 0.35],
  cloudLit: [1.2, 1.05, 0.88],
  cloudShade: [0.45, 0.45, 0.5],
  cloudStart: 0.12,
  offset: [5.2, 1.4],
});

const outlook = (d: Vec3): Vec3 => {
  const azimuth = Math.atan2(d[0], d[2]);
  const ridge = 0.05 + 0.05 * fbm2(azimuth * 5 + 3, 2, 4) - 0.06 * azimuth;
  const woods = 0.8 + 0.6 * fbm2(azimuth * 40, d[1] * 60, 3);
  const hills = mixVec(scale([0.1, 0.125, 0.09], woods), [0.42, 0.4, 0.38], 0.25);
  return mixVec(sky([d[0], Math.abs(d[1]), d[2]]), hills, smoothstep(ridge + 0.004, ridge - 0.004, d[1]));
};

const light: Light = {
  lamps: [
    // Late sun from behind on the right, and an open, bright sky over the left shoulder.
    { toLamp: toSun, colour: [2.6, 1.95, 1.2], spread: 0.06 },
    { toLamp: normalize([-0.62, 0.55, -0.56]), colour: [1.15, 1.12, 1.08], spread: 0.35 },
  ],
  skyUp: [0.3, 0.34, 0.42],
  skySide: [0.24, 0.24, 0.25],
  ground: [0.15, 0.13, 0.11],
  reach: 0.16,
  environment: (d) =>
    d[2] < -0.2 && d[1] > 0
      ? add(
          scale(outlook(d), 0.6),
          scale([2.5, 2.5, 2.5], smoothstep(0.9, 0.96, dot(d, normalize([-0.5, 0.6, -0.62])))),
        )
      : outlook(d),
};

const turned = (s: Solid): Solid => place(s, [0, 0, 0], DOG_YAW);
const skin = turned(dogSkin);
const dog = new World([skin, ...dogTrim.map(turned)]);

/** Rope coiled flat, four turns over three. */
const coil: Solid = {
  centre: [0.8, 0.05, 0.42],
  radius: 0.34,
  distance: (px, py, pz) => {
    const x = px - 0.8;
    const z = pz - 0.42;
    const twist = 0.0035 * Math.sin(Math.atan2(x, z) * 60 + 500 * Math.hypot(x, z));
    const low = Math.min(...[0.1, 0.148, 0.196, 0.244].map((r) => torus(x, py - 0.024, z, r, 0.024)));
    const high = Math.min(...[0.124, 0.172, 0.22].map((r) => torus(x + 0.01, py - 0.066, z, r, 0.024)));
    return (Math.min(low, high) + twist) * 0.8;
  },
  material: paint([0.4, 0.31, 0.19], 0.01, 8),
};

const bollard: Solid = {
  centre: [-0.74, 0.3, 2.4],
  radius: 0.5,
  distance: (x, y, z) =>
    Math.min(
      cylinder(x + 0.74, y - 0.2, z - 2.4, 0.13, 0.24, 0.03),
      cylinder(x + 0.74, y - 0.44, z - 2.4, 0.19, 0.05, 0.045),
    ),
  material: paint([0.04, 0.04, 0.045], 0.06, 40),
};

const WATER_Y = -1.3;
const boat = (at: Vec3, yaw: number, colour: Vec3): Solid[] =>
  [
    hull({
      length: 6.4,
      beam: 2.3,
      freeboard: 0.95,
      draught: 0.45,
      sole: 0.5,
      paint: colour,
      band: [0.75, 0.72, 0.65],
    }),
    place(wheelhouse(1.25, 1.45, 1.3), [0, 0.5, -0.6], 0),
    bar([0, 0.3, 1.5], [0, 4.6, 1.35], 0.065, 0.04, paint([0.42, 0.24, 0.1])),
  ].map((s) => place(s, at, yaw));

const stone = masonry(0.74, 0.52, -1);
const quay = new World([
  slab([0, -1, 0.6], [12, 1, 2.6], 0.03, stone),
  coil,
  bollard,
  ...boat([-3.6, WATER_Y, 9.5], 2.1, [0.05, 0.13, 0.22]),
  ...boat([4.4, WATER_Y, 13], -2, [0.4, 0.07, 0.04]),
  ...boat([-1, WATER_Y, 24], 1.7, [0.7, 0.68, 0.62]),
]);
/** For shadows: the dog stands between the lamps and the stones. */
const everything = new World([slab([0, -1, 0.6], [12, 1, 2.6], 0.03, stone), coil, bollard, skin]);

const camera = createCamera([0, 0.62, -3.3], [0.035, 0.44, 0], 17.2);
const PIXEL = 2.2e-4;

const surroundings = (d: Vec3): { colour: Vec3; t: number } => {
  const o = camera.position;
  const toWater = d[1] < 0 ? (WATER_Y - o[1]) / d[1] : 500;
  const hit = quay.trace(o, d, Math.min(toWater, 60), PIXEL);
  if (hit) {
    const near = hit.t < 8;
    return { colour: shade(near ? everything : quay, light, o, d, hit, hit.t * PIXEL), t: hit.t };
  }
  if (toWater >= 500) return { colour: outlook(d), t: 500 };
  const p = along(o, d, toWater);
  const n = waterNormal(p[0], p[2], 0.24, toWater * PIXEL);
  const bounced = reflect(d, n);
  const up = normalize([bounced[0], Math.abs(bounced[1]), bounced[2]]);
  const mirrored = quay.trace(p, up, 30, 1e-3);
  const sun = Math.max(dot(up, toSun), 0) ** 120;
  const seen = mirrored
    ? shade(quay, light, p, up, mirrored, 0.01)
    : add(outlook(up), scale([60, 46, 28], sun));
  const share = waterReflectance(clamp(-dot(d, n)));
  return { colour: add(scale(seen, 0.08 + 0.9 * share), [0.012, 0.03, 0.032]), t: toWater };
};

const circleRadiusPx = (metres: number, height: number): number =>
  (0.5 * APERTURE * Math.abs(1 / FOCUS - 1 / metres) * height) / (2 * Math.tan(camera.verticalAngle / 2));

/** Sun on the ripples: thickest under the far shore, thinning towards the quay. */
const glintPoints = (width: number, height: number): { x: number; y: number; strength: number }[] => {
  const random = createRandom(5);
  return Array.from({ length: 90 }, () => {
    const near = random() ** 1.6;
    const x = width * (0.15 + 0.95 * random() ** 0.7);
    return { x, y: height * (0.325 + 0.19 * near), strength: 0.35 * random() ** 2 + 0.06 };
  });
};

const render = (width: number, height: number): Image => {
  const behind = createImage(width, height);
  const radiusPx = new Float32Array(width * height);
  const nearest = new Float32Array(width * height);
  for (let y = 0, k = 0; y < height; y++) {
    for (let x = 0; x < width; x++, k++) {
      const d = camera.ray((x + 0.5 - width / 2) / height, (y + 0.5) / height - 0.5);
      const { colour, t } = surroundings(d);
      behind.data.set(
        colour.map((c) => Math.min(c, 12)),
        3 * k,
      );
      radiusPx[k] = Math.max(circleRadiusPx(t, height), height / 1000);
      const onDog = dog.trace(camera.position, d, 8, 1e-4);
      nearest[k] = onDog ? camera.project(along(camera.position, d, onDog.t))[2] : 8;
    }
  }
  const soft = defocus(behind, radiusPx);
  addGlints(soft, glintPoints(width, height), circleRadiusPx(30, height) * 0.62, [1, 0.8, 0.52]);
  const image = renderImage(width, height, 2, (u, v) => {
    const d = camera.ray(u, v);
    const hit = dog.trace(camera.position, d, 8, 1e-4);
    return hit ? shade(everything, light, camera.position, d, hit, hit.t * PIXEL) : readImage(soft, u, v);
  });
  paintFur(image, nearest, dog, skin, turnCoat(dogCoat, DOG_YAW), camera, light);
  return image;
};

export const picture: Picture = {
  widthPx: 1400,
  heightPx: 1400,
  film: {
    exposure: 0.15,
    contrast: 1.28,
    white: 2.8,
    bloom: 0.07,
    vignette: 0.2,
    grain: 1.5,
    saturation: 0.95,
  },
  render,
};
