import { bayerTile } from "./bayer.js";
import { blueNoiseRepeat, blueNoiseTileFor } from "./blue-noise.js";
import { knuthClasses, meseVaidyanathanClasses } from "./class-matrices.js";
import { clusteredScreen } from "./clustered-dot.js";
import { startDiffusion } from "./diffusion.js";
import { startDoseFeedback } from "./dose-feedback.js";
import { startDotDiffusion } from "./dot-diffusion.js";
import { startGreenNoise } from "./green-noise.js";
import { type DiffusionKernel, diffusionKernels } from "./kernels.js";
import type { HalftoneMethod } from "./method.js";
import { plainThreshold, startOrdered } from "./ordered.js";

import { ostromoukhovRows, zhouFangRows, zhouFangStrength } from "./variable-coefficients.js";
import { startVariableDiffusion } from "./variable-diffusion.js";
import { sharesFromKeyRows, strengthFromKeys } from "./variable-weights.js";

const notes: Readonly<Record<string, string>> = {
  atkinson: "Drops a quarter of the error. Contrast is strong, but highlights and shadows clip.",
  "stevenson-arce": "Made for a hexagonal grid: the line pitch should be √3 times the pitch along the lines.",
};

/** With rows √3 apart, the chequerboard of Stevenson and Arce's taps is a hexagonal grid. A tolerance of a tenth is enough. */
const HEXAGONAL = [Math.sqrt(3) * 0.9, Math.sqrt(3) * 1.1] as const;

/** In a tint of 2 %, the first dots of Floyd–Steinberg appear in row 14, those of Jarvis, Judice and Ninke in row 25. */
const LEAD_IN_ROWS = 32;

/** Dose feedback takes time in proportion to the area of the spot: six times as long at 12 pixels as at 5. */
const MAX_SPOT_PX = 12;

function diffusionMethod(kernel: DiffusionKernel): HalftoneMethod {
  const weights = kernel.taps.reduce((sum, [, , weight]) => sum + weight, 0);
  const note = notes[kernel.id];
  return {
    id: kernel.id,
    title: kernel.title,
    family: "error diffusion",
    coarseness: 0,
    source: kernel.source,
    keepsMean: weights === kernel.divisor,
    ...(note === undefined ? {} : { note }),
    ...(kernel.id === "stevenson-arce" ? { pitchRatio: HEXAGONAL } : {}),
    leadInRows: LEAD_IN_ROWS,
    uses: ["scan"],
    takesLevels: true,
    start: (work, settings) => startDiffusion(kernel, work, settings),
  };
}

function bayerMethod(side: 2 | 4 | 8 | 16): HalftoneMethod {
  return {
    id: `bayer-${side}`,
    title: `Bayer ${side} × ${side}`,
    family: "ordered dither",
    coarseness: 1,
    source:
      'B. E. Bayer, "An optimum method for two-level rendition of continuous-tone pictures", IEEE Int. Conf. Communications, 1973',
    keepsMean: true,
    note: `It has ${side * side + 1} tones.`,
    leadInRows: 0,
    uses: [],
    takesLevels: true,
    repeat: () => ({ columns: side, rows: side }),
    start: (work, settings) => startOrdered(bayerTile(side), work, settings),
  };
}

const floydSteinberg = diffusionKernels.find(({ id }) => id === "floyd-steinberg") ?? diffusionKernels[0];

/** All methods that halftone row by row, in the order of the list for users. */
export const halftoneMethods: readonly HalftoneMethod[] = [
  ...diffusionKernels.map(diffusionMethod),
  {
    id: "ostromoukhov",
    title: "Ostromoukhov",
    family: "variable-coefficient diffusion",
    coarseness: 0,
    source: 'V. Ostromoukhov, "A simple and efficient error-diffusion algorithm", Proc. ACM SIGGRAPH, 2001',
    keepsMean: true,
    leadInRows: LEAD_IN_ROWS,
    uses: ["scan"],
    takesLevels: true,
    start: (work, settings) =>
      startVariableDiffusion({ shares: sharesFromKeyRows(ostromoukhovRows) }, work, settings),
  },
  {
    id: "zhou-fang",
    title: "Zhou–Fang",
    family: "variable-coefficient diffusion",
    coarseness: 0,
    source:
      'B. Zhou and X. Fang, "Improving mid-tone quality of variable-coefficient error diffusion using threshold modulation", ACM Trans. Graphics 22(3), 2003',
    keepsMean: true,
    leadInRows: LEAD_IN_ROWS,
    uses: ["scan", "seed"],
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
    coarseness: 1,
    source:
      'R. Levien, "Output dependent feedback in error diffusion halftoning", Proc. IS&T 8th Int. Congress on Advances in Non-Impact Printing Technologies, 1993; D. L. Lau, G. R. Arce and N. C. Gallagher, "Green-noise digital halftoning", Proc. IEEE 86(12), 1998',
    keepsMean: true,
    note: "Dots form clusters; the clumping option sets their size. Clusters are safer if the material does not hold small dots. With a raster scan, diagonal worms appear.",
    leadInRows: LEAD_IN_ROWS,
    uses: ["scan", "seed", "clumping"],
    takesLevels: false,
    start: startGreenNoise,
  },
  {
    id: "dose-feedback",
    title: "Dose feedback",
    family: "dose feedback",
    coarseness: 0,
    source:
      'T. N. Pappas and D. L. Neuhoff, "Printer models and error diffusion", IEEE Trans. Image Processing 4(1), 1995; tracking of the expected dose: ours',
    asksForArea: true,
    flatOnly: true,
    maxSpotPx: MAX_SPOT_PX,
    keepsMean: true,
    note: "Tracks dose and mark at every pixel and corrects overlap on the spot. It has the smallest visual error from four lines per spot on. About forty times slower than Floyd–Steinberg. Only for two levels and flat pieces.",
    leadInRows: LEAD_IN_ROWS,
    uses: ["scan", "seed"],
    takesLevels: false,
    start: startDoseFeedback,
  },
  {
    id: "blue-noise",
    title: "Blue noise",
    family: "blue noise",
    coarseness: 0,
    source:
      'R. A. Ulichney, "The void-and-cluster method for dither array generation", Proc. SPIE 1913, 1993',
    keepsMean: true,
    leadInRows: 0,
    uses: [],
    takesLevels: true,
    repeat: blueNoiseRepeat,
    start: (work, settings) => startOrdered(blueNoiseTileFor(settings), work, settings),
  },
  {
    id: "dot-diffusion",
    title: "Dot diffusion, Knuth 8 × 8",
    family: "dot diffusion",
    coarseness: 1,
    source: 'D. E. Knuth, "Digital halftones by dot diffusion", ACM Trans. Graphics 6(4), 1987',
    keepsMean: false,
    note: "Two pixels of each tile drop their error, so flat tints have only 33 tones.",
    leadInRows: 0,
    uses: [],
    takesLevels: false,
    start: (work, settings) => startDotDiffusion(knuthClasses, work, settings),
  },
  {
    id: "dot-diffusion-16",
    title: "Dot diffusion, Mese–Vaidyanathan 16 × 16",
    family: "dot diffusion",
    coarseness: 0,
    source:
      'M. Mese and P. P. Vaidyanathan, "Optimized halftoning using dot diffusion and methods for inverse halftoning", IEEE Trans. Image Processing 9(4), 2000',
    keepsMean: false,
    leadInRows: 0,
    uses: [],
    takesLevels: false,
    start: (work, settings) => startDotDiffusion(meseVaidyanathanClasses, work, settings),
  },
  {
    id: "clustered-dot",
    title: "Clustered-dot screen",
    family: "clustered dot",
    coarseness: 2,
    source:
      'H. R. Kang, "Digital Color Halftoning" (supercells, from memory), 1999; spot function of ISO 32000-1, 10.5.5',
    keepsMean: true,
    note: "You can set ruling and angle.",
    leadInRows: 0,
    uses: ["screen"],
    takesLevels: true,
    repeat: (settings) => clusteredScreen(settings).repeat,
    start: (work, settings) => startOrdered(clusteredScreen(settings).tile(), work, settings),
  },
  bayerMethod(2),
  bayerMethod(4),
  bayerMethod(8),
  bayerMethod(16),
  {
    id: "threshold",
    title: "Plain threshold",
    family: "threshold",
    coarseness: 0,
    source: "definition: burn if the wanted tone is nearer to burned than to bare",
    keepsMean: false,
    note: "Only two tones; for line drawings. With power levels each pixel takes the nearest level. At 256 levels there is no halftone.",
    leadInRows: 0,
    uses: [],
    takesLevels: true,
    start: (work, settings) => startOrdered(plainThreshold, work, settings),
  },
];

/** What it makes row by row is only a start: whoever asks for it searches on from there. */
const burnSearch: HalftoneMethod = {
  ...diffusionMethod(floydSteinberg),
  id: "burn-search",
  title: "Search through the burn",
  family: "direct search",
  source:
    'M. Analoui and J. P. Allebach, "Model-based halftoning using direct binary search", Proc. SPIE 1666, 1992',
  note: "It begins with another halftone and changes pixels as long as the seen error falls: 15 to 100 seconds per megapixel. For the piece that matters.",
  searches: true,
};

/** All methods that a user may name. */
export const namedMethods: readonly HalftoneMethod[] = [...halftoneMethods, burnSearch];
