import { add, cross, dot, normalize, scale, sub, type Vec3 } from "./vec.js";

/** Pinhole camera. Picture coordinates: u right, v down, both in units of the picture height, centre 0. */
export interface Camera {
  readonly position: Vec3;
  /** Radians. */
  readonly verticalAngle: number;
  /** Unit direction through (u, v). */
  ray(u: number, v: number): Vec3;
  /** [u, v, depth in metres along the axis] of a point. */
  project(p: Vec3): Vec3;
}

/** `verticalDegrees` is the angle from the bottom edge to the top edge. */
export const createCamera = (position: Vec3, target: Vec3, verticalDegrees: number): Camera => {
  const axis = normalize(sub(target, position));
  const right = normalize(cross([0, 1, 0], axis));
  const up = cross(axis, right);
  const verticalAngle = (verticalDegrees * Math.PI) / 180;
  const size = 2 * Math.tan(verticalAngle / 2);
  return {
    position,
    verticalAngle,
    ray: (u, v) => normalize(add(axis, add(scale(right, u * size), scale(up, -v * size)))),
    project: (p) => {
      const q = sub(p, position);
      const depth = dot(q, axis);
      return [dot(q, right) / (depth * size), -dot(q, up) / (depth * size), depth];
    },
  };
};
