import type { Camera } from "./camera.js";
import type { Image } from "./image.js";
import { type Light, skyLight } from "./lighting.js";
import { noise3 } from "./noise.js";
import { turn } from "./place.js";
import { createRandom } from "./random.js";
import { paintSegment, type StrokePoint } from "./stroke.js";
import { add, along, clamp, cross, dot, length, mul, normalize, scale, sub, type Vec3 } from "./vec.js";
import { normalAt, type Solid, type World } from "./world.js";

/** What the hair does at a point of the skin, metres. */
export interface Coat {
  readonly colour: (p: Vec3) => Vec3;
  readonly hairLength: (p: Vec3) => number;
  /** Which way the hair lies, not yet laid on to the skin. */
  readonly flow: (p: Vec3) => Vec3;
  /** Hair of lower order covers the roots of hair of higher order. */
  readonly order: (p: Vec3) => number;
}

/** The coat on a body that stands on the origin and is turned like `place` turns solids. */
export const turnCoat = (coat: Coat, yaw: number): Coat => ({
  colour: (p) => coat.colour(turn(p, -yaw)),
  hairLength: (p) => coat.hairLength(turn(p, -yaw)),
  flow: (p) => turn(coat.flow(turn(p, -yaw)), yaw),
  order: (p) => coat.order(turn(p, -yaw)),
});

interface Strand {
  readonly root: Vec3;
  readonly normal: Vec3;
  readonly order: number;
}

const SEGMENTS = 4;
const HAIRS_PER_PIXEL = 0.5;
/** Hair width at the root, metres: coarser than life, so that locks read at this size. */
const HAIR_WIDTH = 0.00085;

/** Roots wherever the camera sees bare skin, jittered over the pixels. */
const findRoots = (
  world: World,
  skin: Solid,
  coat: Coat,
  camera: Camera,
  width: number,
  height: number,
): Strand[] => {
  const random = createRandom(2024);
  const strands: Strand[] = [];
  const scaleDown = 1400 / height;
  const tries = HAIRS_PER_PIXEL * scaleDown;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const jx = random();
      const jy = random();
      if (random() > tries) continue;
      const d = camera.ray((x + jx - width / 2) / height, (y + jy) / height - 0.5);
      const hit = world.trace(camera.position, d, 8, 1e-4);
      if (hit?.solid !== skin) continue;
      const root = along(camera.position, d, hit.t);
      strands.push({ root, normal: normalAt(skin, root, 0.002), order: coat.order(root) });
    }
  }
  return strands.sort((a, b) => b.order - a.order);
};

/** Light that one hair sends to the viewer (J. T. Kajiya and T. L. Kay, "Rendering fur", 1989). */
const hairLight = (
  world: World,
  light: Light,
  strand: Strand,
  tangent: Vec3,
  toViewer: Vec3,
  albedo: Vec3,
): Vec3 => {
  const { root, normal } = strand;
  const start = along(root, normal, 0.006);
  const open = world.openness(root, normal, light.reach);
  let sum = mul(albedo, scale(skyLight(light, normal), open));
  for (const lamp of light.lamps) {
    const facing = dot(normal, lamp.toLamp);
    // Hair lets light through: the skin's own shade begins later than on a hard surface.
    const wrap = clamp((facing + 0.35) / 1.35);
    if (wrap === 0) continue;
    const arrived = scale(
      lamp.colour,
      wrap * world.light(start, lamp.toLamp, 3, Math.max(lamp.spread, 0.1), 5e-3),
    );
    const across = Math.sqrt(1 - Math.min(dot(tangent, lamp.toLamp) ** 2, 1));
    const half = normalize(add(lamp.toLamp, toViewer));
    const sheen = Math.sqrt(1 - Math.min(dot(tangent, half) ** 2, 1)) ** 60;
    sum = add(sum, scale(mul(albedo, arrived), 0.45 + 0.55 * across));
    sum = add(sum, scale(arrived, 0.05 * sheen));
  }
  return sum;
};

/** Grows hair on the skin and paints it over the image. `nearest` is the depth of what is already there. */
export const paintFur = (
  image: Image,
  nearest: Float32Array,
  world: World,
  skin: Solid,
  coat: Coat,
  camera: Camera,
  light: Light,
): void => {
  const { width, height } = image;
  const random = createRandom(77);
  for (const strand of findRoots(world, skin, coat, camera, width, height)) {
    const { root, normal } = strand;
    const flow = coat.flow(root);
    const laid = normalize(along(flow, normal, -dot(flow, normal)));
    const reach = coat.hairLength(root) * (0.6 + 0.65 * random());
    const sideways = cross(normal, laid);
    // Locks: neighbours share a bend; single hairs stray a little from it.
    const bend = 0.7 * noise3(root[0] * 60, root[1] * 60, root[2] * 60) + 0.22 * (random() - 0.5);
    const lift = 0.3 + 0.25 * random();
    const tangent = normalize(add(laid, scale(sideways, bend * 0.5)));
    const toViewer = normalize(sub(camera.position, root));
    const clump = 0.95 + 0.65 * noise3(root[0] * 95, root[1] * 45, root[2] * 95) + 0.42 * (random() - 0.5);
    const lit = scale(hairLight(world, light, strand, tangent, toViewer, coat.colour(root)), clump);
    let previous: StrokePoint | undefined;
    for (let i = 0; i <= SEGMENTS; i++) {
      const s = i / SEGMENTS;
      const forward = along(root, laid, reach * s);
      const raised = along(forward, normal, reach * lift * s * (1 - 0.45 * s));
      const p = along(raised, sideways, reach * bend * s * s);
      const [u, v, depth] = camera.project([p[0], p[1] - 0.12 * reach * s * s, p[2]]);
      const metre = height / (length(sub(p, camera.position)) * 2 * Math.tan(camera.verticalAngle / 2));
      const point: StrokePoint = {
        x: width / 2 + u * height,
        y: (v + 0.5) * height,
        halfWidth: 0.5 * HAIR_WIDTH * metre * (1 - 0.8 * s),
        depth,
        colour: scale(lit, 0.72 + 0.42 * s),
      };
      if (previous) paintSegment(image, nearest, 0.012, previous, point, 0.85);
      previous = point;
    }
  }
};
