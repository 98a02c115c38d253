import type { MaterialData } from "../../src/core/material/material.js";
import type { ResponsePoints } from "../../src/core/material/response.js";

/** Made-up responses for tests: wood that browns steadily. */
export const gradualPoints: ResponsePoints = [
  [0, 0.55],
  [0.12, 0.55],
  [0.2, 0.438],
  [0.3, 0.327],
  [0.45, 0.22],
  [0.6, 0.157],
  [0.8, 0.107],
  [1, 0.08],
];

/** A light coating: there, then gone. */
export const steepPoints: ResponsePoints = [
  [0, 0.6],
  [0.2, 0.577],
  [0.3, 0.45],
  [0.35, 0.325],
  [0.4, 0.2],
  [0.5, 0.077],
  [0.6, 0.054],
  [1, 0.05],
];

/** A dark coating over something light: the same curve upside down. */
export const lighteningPoints: ResponsePoints = steepPoints.map(([dose, luminance]) => [
  dose,
  0.65 - luminance,
]);

/** A whole material of three rows. */
export const board: MaterialData = {
  name: "net float",
  response: [
    [0, 0.6],
    [0.5, 0.3],
    [1, 0.1],
  ],
  bareColor: "#e3c9a0",
  markedColor: "#3a2415",
  source: "measured on the quay",
};
