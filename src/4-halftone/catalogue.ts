import { bayerTile } from "./bayer.js";
import { blueNoiseTileFor } from "./blue-noise.js";
import { knuthClasses, meseVaidyanathanClasses } from "./class-matrices.js";
import { startDiffusion } from "./diffusion.js";
import { startDoseFeedback } from "./dose-feedback.js";
import { startDotDiffusion } from "./dot-diffusion.js";
import { startGreenNoise } from "./green-noise.js";
import { type DiffusionKernel, diffusionKernels } from "./kernels.js";
import type { HalftoneMethod } from "./method.js";
import { plainThreshold, startOrdered } from "./ordered.js";
import { screenFor } from "./ring-screen.js";
import { ostromoukhovRows, zhouFangRows, zhouFangStrength } from "./variable-coefficients.js";
import { startVariableDiffusion } from "./variable-diffusion.js";
import { sharesFromKeyRows, strengthFromKeys } from "./variable-weights.js";

const notes: Readonly<Record<string, string>> = {
  atkinson: "Drops a quarter of the error: strong contrast, but highlights and shadows clip.",
  "stevenson-arce":
    "Made for a hexagonal grid: wants lines √3 times further apart than the pixels along them.",
};

/** Rows √3 apart make the chequerboard of Stevenson and Arce's taps a hexagonal grid; a tenth either way still looks so. */
const HEXAGONAL = [Math.sqrt(3) * 0.9, Math.sqrt(3) * 1.1] as const;

/** In a tint of 2 % Floyd–Steinberg's first dots come on row 14, Jarvis, Judice and Ninke's on row 25. */
const LEAD_IN_ROWS = 32;

/** Its time grows with the area of the spot: at 12 pixels a pixel takes six times as long as at 5. */
const MAX_SPOT_PX = 12;

function diffusionMethod(kernel: DiffusionKernel): HalftoneMethod {
  const weights = kernel.taps.reduce((sum, [, , weight]) => sum + weight, 0);
  const note = notes[kernel.id];
  return {
    id: kernel.id,
    title: kernel.title,
    family: "error diffusion",
    source: kernel.source,
    keepsMean: weights === kernel.divisor,
    ...(note === undefined ? {} : { note }),
    ...(kernel.id === "stevenson-arce" ? { pitchRatio: HEXAGONAL } : {}),
    leadInRows: LEAD_IN_ROWS,
    takesLevels: true,
    start: (work, settings) => startDiffusion(kernel, work, settings),
  };
}

function bayerMethod(side: 2 | 4 | 8 | 16): HalftoneMethod {
  return {
    id: `bayer-${side}`,
    title: `Bayer ${side} × ${side}`,
    family: "ordered dither",
    source:
      'B. E. Bayer, "An optimum method for two-level rendition of continuous-tone pictures", IEEE Int. Conf. Communications, 1973',
    keepsMean: true,
    note: `${side * side + 1} tones in all.`,
    leadInRows: 0,
    takesLevels: true,
    start: (work, settings) => startOrdered(bayerTile(side), work, settings),
  };
}

/** Every halftone method, in the order in which a user should read them. */
export const halftoneMethods: readonly HalftoneMethod[] = [
  ...diffusionKernels.map(diffusionMethod),
  {
    id: "ostromoukhov",
    title: "Ostromoukhov",
    family: "variable-coefficient diffusion",
    source: 'V. Ostromoukhov, "A simple and efficient error-diffusion algorithm", Proc. ACM SIGGRAPH, 2001',
    keepsMean: true,
    leadInRows: LEAD_IN_ROWS,
    takesLevels: true,
    start: (work, settings) =>
      startVariableDiffusion({ shares: sharesFromKeyRows(ostromoukhovRows) }, work, settings),
  },
  {
    id: "zhou-fang",
    title: "Zhou–Fang",
    family: "variable-coefficient diffusion",
    source:
      'B. Zhou and X. Fang, "Improving mid-tone quality of variable-coefficient error diffusion using threshold modulation", ACM Trans. Graphics 22(3), 2003',
    keepsMean: true,
    leadInRows: LEAD_IN_ROWS,
    takesLevels: true,
    start: (work, settings) =>
      startVariableDiffusion(
        { shares: sharesFromKeyRows(zhouFangRows), noise: strengthFromKeys(zhouFangStrength) },
        work,
        settings,
      ),
  },
  {
    id: "green-noise",
    title: "Green noise",
    family: "green noise",
    source:
      'R. Levien, "Output dependent feedback in error diffusion halftoning", Proc. IS&T 8th Int. Congress on Advances in Non-Impact Printing Technologies, 1993; D. L. Lau, G. R. Arce and N. C. Gallagher, "Green-noise digital halftoning", Proc. IEEE 86(12), 1998',
    keepsMean: true,
    note: "Dots clump, as much as you ask for, which holds up better where a small dot is fragile. Raster scan draws diagonal worms.",
    leadInRows: LEAD_IN_ROWS,
    takesLevels: false,
    start: startGreenNoise,
  },
  {
    id: "dose-feedback",
    title: "Dose feedback",
    family: "dose feedback",
    source:
      'T. N. Pappas and D. L. Neuhoff, "Printer models and error diffusion", IEEE Trans. Image Processing 4(1), 1995; account of expected dose: ours',
    asksForArea: true,
    flatOnly: true,
    maxSpotPx: MAX_SPOT_PX,
    keepsMean: true,
    note: "Keeps account of dose and mark at every pixel, so that overlap is made good where it happens: the least visual error at four lines to a spot and more. Some forty times slower than Floyd–Steinberg. Two levels and flat pieces only.",
    leadInRows: LEAD_IN_ROWS,
    takesLevels: false,
    start: startDoseFeedback,
  },
  {
    id: "blue-noise",
    title: "Blue noise",
    family: "blue noise",
    source:
      'R. A. Ulichney, "The void-and-cluster method for dither array generation", Proc. SPIE 1913, 1993',
    keepsMean: true,
    leadInRows: 0,
    takesLevels: true,
    start: (work, settings) => startOrdered(blueNoiseTileFor(settings), work, settings),
  },
  {
    id: "dot-diffusion",
    title: "Dot diffusion, Knuth 8 × 8",
    family: "dot diffusion",
    source: 'D. E. Knuth, "Digital halftones by dot diffusion", ACM Trans. Graphics 6(4), 1987',
    keepsMean: false,
    note: "Two pixels of each tile drop their error, so flat tints have 33 tones.",
    leadInRows: 0,
    takesLevels: false,
    start: (work, settings) => startDotDiffusion(knuthClasses, work, settings),
  },
  {
    id: "dot-diffusion-16",
    title: "Dot diffusion, Mese–Vaidyanathan 16 × 16",
    family: "dot diffusion",
    source:
      'M. Mese and P. P. Vaidyanathan, "Optimized halftoning using dot diffusion and methods for inverse halftoning", IEEE Trans. Image Processing 9(4), 2000',
    keepsMean: false,
    leadInRows: 0,
    takesLevels: false,
    start: (work, settings) => startDotDiffusion(meseVaidyanathanClasses, work, settings),
  },
  {
    id: "clustered-dot",
    title: "Clustered-dot screen",
    family: "clustered dot",
    source:
      'T. M. Holladay, "An optimum algorithm for halftone generation for displays and hard copies", Proc. SID 21(2), 1980; spot function of ISO 32000-1, 10.5.5',
    keepsMean: true,
    note: "Ruling and angle can be set.",
    leadInRows: 0,
    takesLevels: true,
    start: (work, settings) => startOrdered(screenFor(settings).tile, work, settings),
  },
  bayerMethod(2),
  bayerMethod(4),
  bayerMethod(8),
  bayerMethod(16),
  {
    id: "threshold",
    title: "Plain threshold",
    family: "threshold",
    source: "definition: burn where the wanted tone is nearer to burned than to bare",
    keepsMean: false,
    note: "Two tones only; for line drawings. With power levels each pixel takes the nearest: no halftone at 256.",
    leadInRows: 0,
    takesLevels: true,
    start: (work, settings) => startOrdered(plainThreshold, work, settings),
  },
];
