/** Size of a piece on the screen. Its longer side stays within these limits as far as whole numbers allow. */
const SHOWN_PX_PER_MM = 8;
const MIN_LONGER_PX = 560;
const MAX_LONGER_PX = 1200;
/** Invisible error of the proportions. */
const TOLERATED_ASPECT = 0.01;
const MAX_ENLARGEMENT = 16;
const MAX_REDUCTION = 256;

export interface PictureSize {
  readonly columns: number;
  readonly rows: number;
}

/**
 * Size of a piece on the screen, in pixels: about 8 pixels per mm, twice life size, with small pieces larger and large ones smaller.
 * Each screen pixel has a whole number of burn pixels, or the other way round, because dots and screen pixels of nearly the same
 * size cause moiré. If the two pitches allow no such numbers in true proportions, the proportions have priority.
 */
export function previewSize(
  widthMm: number,
  heightMm: number,
  burnColumns: number,
  burnRows: number,
): PictureSize {
  const longerMm = Math.max(widthMm, heightMm);
  const wantedPx = Math.min(MAX_LONGER_PX, Math.max(MIN_LONGER_PX, SHOWN_PX_PER_MM * longerMm));
  const along = burnColumns / widthMm;
  const across = burnRows / heightMm;
  let best: PictureSize | undefined;
  let bestDistance = Number.POSITIVE_INFINITY;
  for (const scaleAlong of wholeScales()) {
    const pxPerMm = along * scaleAlong;
    const scaleAcross = nearestWholeScale(pxPerMm / across);
    const aspect = (across * scaleAcross) / pxPerMm;
    const distance = Math.abs(Math.log((pxPerMm * longerMm) / wantedPx));
    if (Math.abs(aspect - 1) > TOLERATED_ASPECT || distance >= bestDistance) continue;
    bestDistance = distance;
    best = sized(burnColumns * scaleAlong, burnRows * scaleAcross);
  }
  // The size must be within half and twice the wanted size.
  if (best && bestDistance <= Math.LN2) return best;
  const pxPerMm = wantedPx / longerMm;
  return sized(widthMm * pxPerMm, heightMm * pxPerMm);
}

/** 1/256 … 1/2, 1, 2 … 16. */
function wholeScales(): number[] {
  const reductions = Array.from({ length: MAX_REDUCTION - 1 }, (_, i) => 1 / (MAX_REDUCTION - i));
  return [...reductions, ...Array.from({ length: MAX_ENLARGEMENT }, (_, i) => i + 1)];
}

const nearestWholeScale = (scale: number): number =>
  scale >= 1 ? Math.round(scale) : 1 / Math.round(1 / scale);

const sized = (columns: number, rows: number): PictureSize => ({
  columns: Math.max(1, Math.round(columns)),
  rows: Math.max(1, Math.round(rows)),
});
