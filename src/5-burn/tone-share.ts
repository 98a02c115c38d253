/** Blocks along each side of a picture, and samples along each side of a block. */
const BLOCKS = 24;
const SAMPLES = 4;

/** A picture of lightness, and its size. */
export interface TonePicture {
  readonly columns: number;
  readonly rows: number;
  readonly widthMm: number;
  readonly heightMm: number;
  /** L* of a pixel. */
  readonly lightnessAt: (x: number, y: number) => number;
}

/**
 * How much of a random field goes with the tones of a picture: the variance of mean(z·F), as a share of the variance of F, where z is
 * the lightness less its mean over its deviation, and F a field of correlation exp(−(r/ℓ)²). A field that is dark where the
 * picture is dark looks like a change of contrast. It takes tones that hold over distances of ℓ; fine texture takes nothing.
 * Source: statistics, Σ z z′ exp(−(r/ℓ)²) over all pairs of blocks.
 *
 * @param lengthMm ℓ
 * @returns 0..1; 0 for a picture of one tone
 */
export function toneShare(picture: TonePicture, lengthMm: number): number {
  const { columns, rows, widthMm, heightMm } = picture;
  const along = Math.min(BLOCKS, columns);
  const across = Math.min(BLOCKS, rows);
  const blocks = standardisedBlocks(picture, along, across);
  if (!blocks) return 0;
  const nearAlong = correlations(along, widthMm / along / lengthMm);
  const nearAcross = correlations(across, heightMm / across / lengthMm);
  let sum = 0;
  for (let y = 0; y < across; y++) {
    for (let other = 0; other < across; other++) {
      const beside = nearAcross[Math.abs(y - other)];
      for (let x = 0; x < along; x++) {
        let row = 0;
        for (let k = 0; k < along; k++) row += nearAlong[Math.abs(x - k)] * blocks[other * along + k];
        sum += beside * blocks[y * along + x] * row;
      }
    }
  }
  return Math.max(0, sum) / (along * across) ** 2;
}

/** exp(−(n·step)²) for n = 0..count − 1 */
const correlations = (count: number, step: number): Float64Array =>
  Float64Array.from({ length: count }, (_, n) => Math.exp(-((n * step) ** 2)));

/** Mean of z in each block; undefined for a picture of one tone. */
function standardisedBlocks(
  { columns, rows, lightnessAt }: TonePicture,
  along: number,
  across: number,
): Float64Array | undefined {
  const blocks = new Float64Array(along * across);
  let [sum, squares] = [0, 0];
  for (let j = 0; j < across * SAMPLES; j++) {
    const y = Math.floor(((j + 0.5) * rows) / (across * SAMPLES));
    for (let i = 0; i < along * SAMPLES; i++) {
      const x = Math.floor(((i + 0.5) * columns) / (along * SAMPLES));
      const lightness = lightnessAt(x, y);
      sum += lightness;
      squares += lightness * lightness;
      blocks[Math.floor(j / SAMPLES) * along + Math.floor(i / SAMPLES)] += lightness / SAMPLES ** 2;
    }
  }
  const count = along * across * SAMPLES ** 2;
  const mean = sum / count;
  const deviation = Math.sqrt(Math.max(0, squares / count - mean * mean));
  return deviation < 1e-6 ? undefined : blocks.map((lightness) => (lightness - mean) / deviation);
}
