/** The user's adjustments of the photo's tones, with defaults filled in. */
export interface ToneAdjustments {
  /** Stretch the photo's own range to 0..1 (see levels). */
  readonly autoLevels: boolean;
  /** Share of pixels, in percent, that automatic levels may clip at each end. */
  readonly clipPercent: number;
  /** Added to L*, −100..100. */
  readonly brightness: number;
  /** Slope about mid-tone L* 50: −100 halves it, 0 leaves it, 100 doubles it. */
  readonly contrast: number;
  /** Exponent 1/gamma on L*⁄100; above 1 lightens mid-tones. */
  readonly gamma: number;
  /** Swap light and dark: L* becomes 100 − L*. */
  readonly negative: boolean;
  /** Contrast added to differences from the surroundings, 0..2. */
  readonly localContrast: number;
  /** Share of the spot's blur compensated in advance, 0..2; 1 undoes it to first order. */
  readonly sharpen: number;
}
