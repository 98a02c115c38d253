import { denseData, type Plane } from "../../core/plane.js";

/** The transparent share of a picture: the mean of what its pixels let through. */
export function transparentShare(opacity: Plane<"opacity", Uint16Array>): number {
  const codes = denseData(opacity);
  let sum = 0;
  for (const code of codes) sum += 65535 - code;
  return sum / (65535 * codes.length);
}
