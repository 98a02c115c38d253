/** What goes wrong with pictures, done to a picture of which nothing is wrong. Places are shares of the picture's sides. */
import sharp, { type Sharp } from "sharp";
import { linearFromSrgb, srgbFromLinear } from "../../src/core/physics/transfer.js";

export type Edit = (bytes: Buffer) => Promise<Buffer>;

const jpeg = (picture: Sharp, quality = 90): Promise<Buffer> => picture.jpeg({ quality }).toBuffer();

/** The part between shares of the sides. */
export const cropped =
  (left: number, top: number, right: number, bottom: number): Edit =>
  async (bytes) => {
    const { width, height } = await sharp(bytes).metadata();
    return jpeg(
      sharp(bytes).extract({
        left: Math.round(left * width),
        top: Math.round(top * height),
        width: Math.round((right - left) * width),
        height: Math.round((bottom - top) * height),
      }),
    );
  };

/** Shapes over the picture: SVG whose unit is a hundredth of the picture's width, or height. */
export const covered =
  (shapes: string, defs = ""): Edit =>
  async (bytes) => {
    const { width, height } = await sharp(bytes).metadata();
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 100 100" preserveAspectRatio="none"><defs>${defs}</defs>${shapes}</svg>`;
    return jpeg(sharp(bytes).composite([{ input: Buffer.from(svg) }]));
  };

/** Light from here to there is less by a share of linear light, with a straight, sharp edge at `x` (left of it) and soft over `soft`. */
export const shadowed = (share: number, reaches: (x: number, y: number) => number): Edit =>
  changedLight((light, x, y) => light * (1 - share * Math.min(1, Math.max(0, reaches(x, y)))));

/** Glare: light is added in a round spot. */
export const glaring = (light: number, [x, y, radius]: readonly [number, number, number]): Edit =>
  changedLight(
    (each, u, v) => each + light * Math.exp(-((u - x) ** 2 + (v - y) ** 2) / (2 * radius * radius)),
  );

/** Another linear light at every place. */
export function changedLight(change: (light: number, x: number, y: number) => number): Edit {
  return async (bytes) => {
    const { data, info } = await sharp(bytes).greyscale().raw().toBuffer({ resolveWithObject: true });
    const { width, height, channels } = info;
    const codes = data.map((code, i) => {
      const [x, y] = [(i % width) / width, Math.floor(i / width) / height];
      return Math.round(
        255 * srgbFromLinear(Math.min(1, Math.max(0, change(linearFromSrgb(code / 255), x, y)))),
      );
    });
    return jpeg(sharp(codes, { raw: { width, height, channels } }));
  };
}

/** Tones that follow their neighbourhood, as high-dynamic-range modes do: code minus a share of the mean code round it. */
export const toneMapped =
  (strength: number, radiusPx: number): Edit =>
  async (bytes) => {
    const grey = sharp(bytes).greyscale();
    const base = await sharp(await grey.clone().blur(radiusPx).png().toBuffer())
      .greyscale()
      .raw()
      .toBuffer();
    const { data, info } = await grey.raw().toBuffer({ resolveWithObject: true });
    const { width, height, channels } = info;
    const codes = data.map((code, i) =>
      Math.round(Math.min(255, Math.max(0, code - strength * (base[i] - 128)))),
    );
    return jpeg(sharp(codes, { raw: { width, height, channels } }));
  };

export const sharpened =
  (amount: number, sigma: number): Edit =>
  (bytes) =>
    jpeg(sharp(bytes).sharpen({ sigma, m1: amount, m2: amount, x1: 0, y2: 100, y3: 100 }));

/** Out of focus: light is blurred, not codes. */
export const blurred = (sigma: number): Edit => inLight((light) => light.blur(sigma));

/** The camera moves by so many pixels along the rows, or down the picture. */
export const moved = (px: number, vertical = false): Edit => {
  const [width, height] = vertical ? [3, px | 1] : [px | 1, 3];
  const kernel = Array.from({ length: width * height }, (_, i) =>
    (vertical ? i % width === 1 : Math.floor(i / width) === 1) ? 1 : 0,
  );
  return inLight((light) => light.convolve({ width, height, kernel, scale: px | 1 }));
};

/** The same done to samples of linear light, of 16 bits. */
const inLight =
  (change: (light: Sharp) => Sharp): Edit =>
  async (bytes) => {
    const { data, info } = await sharp(bytes).greyscale().raw().toBuffer({ resolveWithObject: true });
    const raw = { width: info.width, height: info.height, channels: 1 } as const;
    const light = Uint16Array.from(data, (code) => Math.round(65535 * linearFromSrgb(code / 255)));
    const changed = await change(sharp(light, { raw }).toColourspace("grey16"))
      .raw({ depth: "ushort" })
      .toBuffer();
    const values = new Uint16Array(changed.buffer, changed.byteOffset, changed.byteLength / 2);
    const codes = data.map((_, i) => Math.round(255 * srgbFromLinear(values[i] / 65535)));
    return jpeg(sharp(codes, { raw }));
  };

export const compressed =
  (quality: number): Edit =>
  (bytes) =>
    jpeg(sharp(bytes), quality);

/** Fewer pixels; without a filter every so-many-th pixel is taken. */
export const smaller =
  (width: number, kernel: "lanczos3" | "nearest" = "lanczos3"): Edit =>
  (bytes) =>
    jpeg(sharp(bytes).resize({ width, kernel }));

export const negative: Edit = (bytes) => jpeg(sharp(bytes).negate());
export const tinted: Edit = (bytes) =>
  jpeg(
    sharp(bytes)
      .toColourspace("srgb")
      .recomb([
        [1, 0, 0],
        [0, 0.8, 0],
        [0, 0, 0.5],
      ]),
  );
export const turnedByExif: Edit = (bytes) =>
  sharp(bytes).rotate(90).withMetadata({ orientation: 8 }).jpeg({ quality: 90 }).toBuffer();
export const cmyk: Edit = (bytes) =>
  sharp(bytes).withIccProfile("cmyk").toColourspace("cmyk").jpeg({ quality: 92 }).toBuffer();
export const sixteenBits: Edit = (bytes) => sharp(bytes).toColourspace("rgb16").png().toBuffer();
export const translucent: Edit = (bytes) => sharp(bytes).ensureAlpha(0.6).png().toBuffer();

/** Two pictures side by side. */
export async function sideBySide(one: Buffer, other: Buffer): Promise<Buffer> {
  const { width = 0, height = 0 } = await sharp(one).metadata();
  const wide = sharp({ create: { width: 2 * width, height, channels: 3, background: "#888" } });
  return jpeg(
    wide.composite([
      { input: one, left: 0, top: 0 },
      { input: other, left: width, top: 0 },
    ]),
  );
}

/** The picture with a part of another one, which lies at the same place. */
export const pastedFrom =
  (other: Buffer, place: readonly [left: number, top: number, right: number, bottom: number]): Edit =>
  async (bytes) => {
    const { width = 0, height = 0 } = await sharp(bytes).metadata();
    const [left, top] = [Math.round(place[0] * width), Math.round(place[1] * height)];
    const size = { width: Math.round(place[2] * width) - left, height: Math.round(place[3] * height) - top };
    const input = await sharp(other)
      .extract({ left, top, ...size })
      .png()
      .toBuffer();
    return jpeg(sharp(bytes).composite([{ input, left, top }]));
  };
