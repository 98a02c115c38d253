/**
 * An error-diffusion stencil as data. The pixel at ● passes weight / divisor of its error to the pixel `dx` further along the
 * scan and `dy` rows down. On lines scanned the other way, dx is mirrored. Weights sum to the divisor, or the loss is deliberate
 * and stated.
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

/** The taps of a stencil from a drawing, row by row: ● is the pixel itself, and · takes no error. */
function drawn(...rows: readonly string[]): Tap[] {
  const origin = rows[0].split(" ").indexOf("●");
  return rows.flatMap((row, dy) =>
    row.split(" ").flatMap((cell, column): Tap[] => {
      const weight = Number(cell);
      return weight > 0 ? [[column - origin, dy, weight]] : [];
    }),
  );
}

export const diffusionKernels: readonly DiffusionKernel[] = [
  {
    id: "floyd-steinberg",
    title: "Floyd–Steinberg",
    source:
      'R. W. Floyd and L. Steinberg, "An adaptive algorithm for spatial greyscale", Proc. Society for Information Display 17(2), 75-77 (first shown at the 1975 SID symposium, 36-37), 1976',
    divisor: 16,
    taps: drawn("· ● 7", "3 5 1"),
  },
  {
    id: "jarvis-judice-ninke",
    title: "Jarvis–Judice–Ninke",
    source:
      'J. F. Jarvis, C. N. Judice and W. H. Ninke, "A survey of techniques for the display of continuous tone pictures on bilevel displays", Computer Graphics and Image Processing 5(1), 13-40, 1976',
    divisor: 48,
    taps: drawn("· · ● 7 5", "3 5 7 5 3", "1 3 5 3 1"),
  },
  {
    id: "stucki",
    title: "Stucki",
    source:
      'P. Stucki, "MECCA - a multiple-error correction computation algorithm for bi-level image hardcopy reproduction", IBM Research Report RZ1060, Zurich, 1981',
    divisor: 42,
    taps: drawn("· · ● 8 4", "2 4 8 4 2", "1 2 4 2 1"),
  },
  {
    id: "burkes",
    title: "Burkes",
    source:
      'D. Burkes, "Presentation of the Burkes error filter (unpublished)", CIS Graphics Support Forum, library 15, 1988',
    divisor: 32,
    taps: drawn("· · ● 8 4", "2 4 8 4 2"),
  },
  {
    id: "sierra",
    title: "Sierra, three rows",
    source:
      'F. Sierra, "Sierra error filters (unpublished)", CIS Graphics Support Forum, library 17, 1989-1990',
    divisor: 32,
    taps: drawn("· · ● 5 3", "2 4 5 4 2", "· 2 3 2 ·"),
  },
  {
    id: "sierra-two-row",
    title: "Sierra, two rows",
    source:
      'F. Sierra, "Sierra error filters (unpublished)", CIS Graphics Support Forum, library 17, 1989-1990',
    divisor: 16,
    taps: drawn("· · ● 4 3", "1 2 3 2 1"),
  },
  {
    id: "sierra-lite",
    title: "Sierra lite",
    source:
      'F. Sierra, "Sierra error filters (unpublished)", CIS Graphics Support Forum, library 17, 1989-1990',
    divisor: 4,
    taps: drawn("· ● 2", "1 1 ·"),
  },
  /** The weights sum to 6: a quarter of the error is dropped, so highlights and shadows clip. */
  {
    id: "atkinson",
    title: "Atkinson",
    source: "W. Atkinson, unpublished, 1984",
    divisor: 8,
    taps: drawn("· ● 1 1", "1 1 1 ·", "· 1 · ·"),
  },
  {
    id: "fan",
    title: "Fan",
    source:
      'Z. Fan, "A simple modification of error diffusion weights", Proc. IS&T 46th Annual Conference, 113-115, 1993',
    divisor: 16,
    taps: drawn("· · ● 7", "1 3 5 ·"),
  },
  {
    id: "shiau-fan-4",
    title: "Shiau–Fan, four taps",
    source:
      'J.-N. Shiau and Z. Fan, "Method for quantization of gray level pixel data with extended distribution set", US patent 5,353,127 (filed 1993, issued 1994, expired 2013), 1993',
    divisor: 8,
    taps: drawn("· · ● 4", "1 1 2 ·"),
  },
  {
    id: "shiau-fan",
    title: "Shiau–Fan, five taps",
    source:
      'J.-N. Shiau and Z. Fan, "A set of easily implementable coefficients in error diffusion with reduced worm artifacts", Proc. SPIE 2658, 222-225, 1996',
    divisor: 16,
    taps: drawn("· · · ● 8", "1 1 2 4 ·"),
  },
  /** Made for a hexagonal grid, here on every second column: error stays on pixels of one chequerboard colour. */
  {
    id: "stevenson-arce",
    title: "Stevenson–Arce",
    source:
      'R. L. Stevenson and G. R. Arce, "Binary display of hexagonally sampled continuous-tone images", J. Optical Society of America A 2(7), 1009-1013, 1985',
    divisor: 200,
    taps: drawn("· · · ● · 32 ·", "12 · 26 · 30 · 16", "· 12 · 26 · 12 ·", "5 · 12 · 12 · 5"),
  },
];
