import { add, along, clamp, dot, mixVec, mul, normalize, reflect, scale, sub, type Vec3 } from "./vec.js";
import { type Hit, normalAt, type World } from "./world.js";

/** A far lamp: sun, window or softbox. */
export interface Lamp {
  /** Unit direction towards the lamp. */
  readonly toLamp: Vec3;
  readonly colour: Vec3;
  /** Angular radius, radians: larger is softer. */
  readonly spread: number;
}

/** Lamps and a dome of sky light. Radiances are linear RGB. */
export interface Light {
  readonly lamps: readonly Lamp[];
  readonly skyUp: Vec3;
  readonly skySide: Vec3;
  /** Light thrown back by the ground. */
  readonly ground: Vec3;
  /** Metres within which solids shade each other from the sky. */
  readonly reach: number;
  /** What a mirror would see in direction `d`. */
  readonly environment: (d: Vec3) => Vec3;
}

/** Skylight falling on a surface with normal `n`, before occlusion. */
export const skyLight = (light: Light, n: Vec3): Vec3 =>
  n[1] >= 0
    ? mixVec(light.skySide, light.skyUp, n[1])
    : mixVec(light.skySide, light.ground, Math.sqrt(-n[1]));

/** Light leaving `hit` towards the viewer, who looks along `d`. `footprint` is the pixel size there, metres. */
export const shade = (world: World, light: Light, o: Vec3, d: Vec3, hit: Hit, footprint: number): Vec3 => {
  const p = along(o, d, hit.t);
  const facing = normalAt(hit.solid, p, Math.max(footprint * 0.5, 5e-4));
  const surface = hit.solid.material(p, facing);
  const n = surface.normal ?? facing;
  const start = along(p, facing, 2e-3 + footprint);
  const open = world.openness(p, facing, light.reach);
  // Light between close surfaces takes their colour, so occluded places stay warm rather than grey.
  const sky = scale(skyLight(light, n), open);
  let diffuse = mul(surface.albedo, sky);
  let glints: Vec3 = [0, 0, 0];
  for (const lamp of light.lamps) {
    const facingLamp = dot(n, lamp.toLamp);
    if (facingLamp <= 0 || dot(facing, lamp.toLamp) < -0.1) continue;
    const arrived = scale(
      lamp.colour,
      world.light(start, lamp.toLamp, 60, lamp.spread, 4e-3 + 2 * footprint),
    );
    const half = normalize(sub(lamp.toLamp, d));
    const peak = ((surface.shininess + 8) / 25) * clamp(dot(n, half)) ** surface.shininess;
    diffuse = add(diffuse, scale(mul(surface.albedo, arrived), facingLamp));
    glints = add(glints, scale(arrived, peak * surface.specular));
  }
  const grazing = (1 - clamp(-dot(d, n))) ** 5;
  const mirror = surface.specular + (1 - surface.specular) * grazing * clamp(surface.shininess / 120);
  const seen = scale(light.environment(reflect(d, n)), mirror * open);
  const sum = add(diffuse, add(glints, seen));
  return surface.emission ? add(sum, surface.emission) : sum;
};
