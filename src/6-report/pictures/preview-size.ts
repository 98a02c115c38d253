/** How large a piece is shown, in pixels; its longer side keeps within these as far as whole numbers allow. */
const SHOWN_PX_PER_MM = 8;
const MIN_LONGER_PX = 560;
const MAX_LONGER_PX = 1200;
/** Departure from true proportions that nobody sees. */
const TOLERATED_ASPECT = 0.01;
const MAX_ENLARGEMENT = 16;
const MAX_REDUCTION = 256;

export interface PictureSize {
  readonly columns: number;
  readonly rows: number;
}

/**
 * Size in pixels at which a piece is shown: near 8 pixels per mm, about twice life size on a screen, small pieces larger and
 * large ones smaller. A whole number of burn pixels falls to each screen pixel or the other way round, because dots and
 * screen pixels of nearly the same size would beat. Where the two pitches allow no such pair of numbers in true proportions,
 * those go before.
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
  // No more than half or twice the size wanted, or a picture would be a stamp or a poster.
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
