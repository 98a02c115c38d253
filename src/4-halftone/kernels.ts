/**
 * An error-diffusion stencil as data. Each share is weight / divisor of the error of the pixel at ●, handed to the pixel
 * `dx` further along the scan and `dy` rows down; on lines scanned the other way dx is mirrored. Weights sum to the divisor
 * unless the loss is deliberate and stated.
 */
export interface DiffusionKernel {
  readonly id: string;
  readonly title: string;
  readonly source: string;
  readonly divisor: number;
  /** [dx, dy, weight]; only pixels not yet scanned. */
  readonly taps: readonly Tap[];
}

type Tap = readonly [dx: number, dy: number, weight: number];

/** The taps of a stencil from a drawing of it, row by row: ● is the pixel itself, and · takes nothing. */
function drawn(...rows: readonly string[]): Tap[] {
  const origin = rows[0].split(" ").indexOf("●");
  return rows.flatMap((row, dy) =>
    row.split(" ").flatMap((cell, column): Tap[] => {
      const weight = Number(cell);
      return weight > 0 ? [[column - origin, dy, weight]] : [];
    }),
  );
}

export const floydSteinberg: DiffusionKernel = {
  id: "floyd-steinberg",
  title: "Floyd–Steinberg",
  source:
    'R. W. Floyd and L. Steinberg, "An adaptive algorithm for spatial greyscale", Proc. Society for Information Display 17(2), 75-77 (first shown at the 1975 SID symposium, 36-37), 1976',
  divisor: 16,
  taps: drawn("· ● 7", "3 5 1"),
};

export const jarvisJudiceNinke: DiffusionKernel = {
  id: "jarvis-judice-ninke",
  title: "Jarvis–Judice–Ninke",
  source:
    'J. F. Jarvis, C. N. Judice and W. H. Ninke, "A survey of techniques for the display of continuous tone pictures on bilevel displays", Computer Graphics and Image Processing 5(1), 13-40, 1976',
  divisor: 48,
  taps: drawn("· · ● 7 5", "3 5 7 5 3", "1 3 5 3 1"),
};

export const stucki: DiffusionKernel = {
  id: "stucki",
  title: "Stucki",
  source:
    'P. Stucki, "MECCA - a multiple-error correction computation algorithm for bi-level image hardcopy reproduction", IBM Research Report RZ1060, Zurich, 1981',
  divisor: 42,
  taps: drawn("· · ● 8 4", "2 4 8 4 2", "1 2 4 2 1"),
};

export const burkes: DiffusionKernel = {
  id: "burkes",
  title: "Burkes",
  source:
    'D. Burkes, "Presentation of the Burkes error filter (unpublished)", CIS Graphics Support Forum, library 15, 1988',
  divisor: 32,
  taps: drawn("· · ● 8 4", "2 4 8 4 2"),
};

export const sierra: DiffusionKernel = {
  id: "sierra",
  title: "Sierra, three rows",
  source:
    'F. Sierra, "Sierra error filters (unpublished)", CIS Graphics Support Forum, library 17, 1989-1990',
  divisor: 32,
  taps: drawn("· · ● 5 3", "2 4 5 4 2", "· 2 3 2 ·"),
};

export const sierraTwoRow: DiffusionKernel = {
  id: "sierra-two-row",
  title: "Sierra, two rows",
  source:
    'F. Sierra, "Sierra error filters (unpublished)", CIS Graphics Support Forum, library 17, 1989-1990',
  divisor: 16,
  taps: drawn("· · ● 4 3", "1 2 3 2 1"),
};

export const sierraLite: DiffusionKernel = {
  id: "sierra-lite",
  title: "Sierra lite",
  source:
    'F. Sierra, "Sierra error filters (unpublished)", CIS Graphics Support Forum, library 17, 1989-1990',
  divisor: 4,
  taps: drawn("· ● 2", "1 1 ·"),
};

/** The weights sum to 6: a quarter of the error is dropped, so highlights and shadows clip. */
export const atkinson: DiffusionKernel = {
  id: "atkinson",
  title: "Atkinson",
  source: "W. Atkinson, unpublished, 1984",
  divisor: 8,
  taps: drawn("· ● 1 1", "1 1 1 ·", "· 1 · ·"),
};

export const fan: DiffusionKernel = {
  id: "fan",
  title: "Fan",
  source:
    'Z. Fan, "A simple modification of error diffusion weights", Proc. IS&T 46th Annual Conference, 113-115, 1993',
  divisor: 16,
  taps: drawn("· · ● 7", "1 3 5 ·"),
};

export const shiauFanFour: DiffusionKernel = {
  id: "shiau-fan-4",
  title: "Shiau–Fan, four taps",
  source:
    'J.-N. Shiau and Z. Fan, "Method for quantization of gray level pixel data with extended distribution set", US patent 5,353,127 (filed 1993, issued 1994, expired 2013), 1993',
  divisor: 8,
  taps: drawn("· · ● 4", "1 1 2 ·"),
};

export const shiauFan: DiffusionKernel = {
  id: "shiau-fan",
  title: "Shiau–Fan, five taps",
  source:
    'J.-N. Shiau and Z. Fan, "A set of easily implementable coefficients in error diffusion with reduced worm artifacts", Proc. SPIE 2658, 222-225, 1996',
  divisor: 16,
  taps: drawn("· · · ● 8", "1 1 2 4 ·"),
};

/** Made for a hexagonal grid, laid here on every second column: it passes error only between pixels of one chequerboard colour. */
export const stevensonArce: DiffusionKernel = {
  id: "stevenson-arce",
  title: "Stevenson–Arce",
  source:
    'R. L. Stevenson and G. R. Arce, "Binary display of hexagonally sampled continuous-tone images", J. Optical Society of America A 2(7), 1009-1013, 1985',
  divisor: 200,
  taps: drawn("· · · ● · 32 ·", "12 · 26 · 30 · 16", "· 12 · 26 · 12 ·", "5 · 12 · 12 · 5"),
};

export const diffusionKernels: readonly DiffusionKernel[] = [
  floydSteinberg,
  jarvisJudiceNinke,
  stucki,
  burkes,
  sierra,
  sierraTwoRow,
  sierraLite,
  atkinson,
  fan,
  shiauFanFour,
  shiauFan,
  stevensonArce,
];
