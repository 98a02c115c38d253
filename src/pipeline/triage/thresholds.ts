/**
 * Thresholds from which a finding is a note, and from which the customer is asked. The thresholds of blur and blocks were set on
 * the photographs of tests/batch/triage-pictures.ts marked `setting`, 1000 pixels wide for 80 mm and a spot of 0.1 mm, midway
 * between pictures with and without the finding (blur of 2 and 3 and of 3 and 5 pixels, JPEG quality 70 and 30 and 30 and 8);
 * triage.test.ts counts the errors on the others. The rest is common practice, without a source.
 */
export const thresholds = {
  /** Photo pixels over those that spot and pitch can show: below. Nobody sees a twentieth too few. */
  pixels: { note: 0.95, ask: 0.5 },
  /** Blur of the sharpest edges on the piece, as full width at half maximum over the spot's diameter: above. */
  blurSpots: { note: 3.9, ask: 6.1 },
  /** The same in photo pixels: below, the picture counts as sharp at any size. */
  blurPx: 4.5,
  /** Shares at an end of the scale: above. */
  clipped: { note: 0.05 },
  /** L* between the 1st and the 99th percentile: below. */
  lightnessRange: { note: 45, ask: 20 },
  /** Visibility of block boundaries: above. */
  blocking: { note: 0.35, ask: 0.68 },
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
