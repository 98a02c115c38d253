import sharp from "sharp";

/** Segments of a digit of seven strokes, of size 1 × 2: x, y, width, height. */
const STROKE = 0.22;
const SEGMENTS: Readonly<Record<string, readonly [number, number, number, number]>> = {
  a: [0, 0, 1, STROKE],
  b: [1 - STROKE, 0, STROKE, 1],
  c: [1 - STROKE, 1, STROKE, 1],
  d: [0, 2 - STROKE, 1, STROKE],
  e: [0, 1, STROKE, 1],
  f: [0, 0, STROKE, 1],
  g: [0, 1 - STROKE / 2, 1, STROKE],
};
const DIGITS = ["abcdef", "bc", "abged", "abgcd", "fgbc", "afgcd", "afgedc", "abc", "abcdefg", "abcdfg"];
const DATE = "20260714";

interface Raw {
  readonly data: Buffer;
  readonly info: { readonly width: number; readonly height: number; readonly channels: 1 | 2 | 3 | 4 };
}

/** A picture with the bright, sharp date of a camera in its corner: a quarter of the width. */
export async function stampedWith({ data, info }: Raw): Promise<Raw> {
  const { width, height, channels } = info;
  const unit = width / 4 / (DATE.length * 1.5);
  const strokes = [...DATE].flatMap((digit, at) =>
    [...DIGITS[Number(digit)]].map((segment) => {
      const [x, y, w, h] = SEGMENTS[segment].map((length) => length * unit);
      return `<rect x="${(x + at * 1.5 * unit).toFixed(1)}" y="${y.toFixed(1)}" width="${w.toFixed(1)}" height="${h.toFixed(1)}"/>`;
    }),
  );
  const stamp = `<svg xmlns="http://www.w3.org/2000/svg" width="${Math.ceil(width / 4)}" height="${Math.ceil(2 * unit)}" fill="#ffb040">${strokes.join("")}</svg>`;
  const image = sharp(data, { raw: { width, height, channels }, limitInputPixels: false }).composite([
    { input: Buffer.from(stamp), left: Math.round(0.7 * width), top: Math.round(height - 4 * unit) },
  ]);
  const plain = channels === 1 ? image.toColourspace("b-w") : image;
  return plain.removeAlpha().raw().toBuffer({ resolveWithObject: true });
}
