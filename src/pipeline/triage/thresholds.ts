/**
 * Thresholds from which a finding is a note, and from which the customer is asked. Those of blur were set on half of the
 * photographs of `npm run bench:triage`, and those of grain and blocks on the same half by eye; the bench counts the errors on the
 * others. The rest is common practice, without a source.
 */
export const thresholds = {
  /** Photo pixels over those that spot and pitch can show: below. Nobody sees a twentieth too few. */
  pixels: { note: 0.95, ask: 0.5 },
  /**
   * Blur as full width at half maximum, in spots or in photo pixels where they are coarser: above. A picture that is sharp in its own
   * pixels has too few of them, which is another finding.
   */
  blurPx: { note: 3.5, ask: 4 },
  /** Standard deviation of noise on a spot, in 8-bit codes: above. */
  grain: { note: 5, ask: 15 },
  /** The same over the standard deviation of the picture's own tones: above, there is more noise than picture. */
  grainOverTones: 0.5,
  /** Shares at an end of the scale: above. */
  clipped: { note: 0.05 },
  /** L* between the 1st and the 99th percentile: below. */
  lightnessRange: { note: 45, ask: 20 },
  /** Height of the steps between blocks of compression as the eye sees it, in 8-bit codes: above. */
  blocking: { note: 0.3, ask: 0.58 },
  /** Nearly all black or white, jumping between neighbours. */
  dithered: { extreme: 0.9, jumps: 0.06 },
  /** Share of exact flatness over a stretch in a format without loss. */
  flat: 0.2,
  /** Share of the picture that is transparent: above. */
  transparent: 0.005,
  /** Share of the picture that a crop removes: above. */
  cropped: { note: 0.2, ask: 0.4 },
  /** Ratio of the scales of a stretched picture: above. */
  stretched: { note: 1.05, ask: 1.2 },
  /** Longer over shorter side, if only one size was given: above. */
  shape: { note: 4, ask: 10 },
} as const;
