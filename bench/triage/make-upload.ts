import sharp, { type Sharp } from "sharp";
import { normalDeviate, type Random } from "../../src/core/random.js";
import { stampedWith } from "./date-stamp.js";
import type { Planted } from "./planted.js";

/** Pixels of a photograph for each spot before it is changed: more than enough. */
const PX_PER_SPOT = 2.5;
const FWHM_PER_SIGMA = 2 * Math.sqrt(2 * Math.LN2);
/** What lies behind a sharp subject, as blur in spots. */
const BACKGROUND_BLUR_SPOTS = 10;
/** From here on a picture is grey, to save memory. */
const GREY_FROM_MEGAPIXELS = 20;

interface Raw {
  readonly data: Buffer;
  readonly info: { readonly width: number; readonly height: number; readonly channels: 1 | 2 | 3 | 4 };
}

const open = ({ data, info: { width, height, channels } }: Raw): Sharp =>
  sharp(data, { raw: { width, height, channels }, limitInputPixels: false });

const rawOf = async (image: Sharp): Promise<Raw> => image.raw().toBuffer({ resolveWithObject: true });

/** The file of an upload. The same plan, photograph and numbers give the same bytes. */
export async function makeUpload(planted: Planted, photograph: Buffer, random: Random): Promise<Buffer> {
  const base = await rawOf(
    sharp(photograph)
      .removeAlpha()
      .toColourspace("srgb")
      .resize(Math.round(PX_PER_SPOT * planted.spots), null, { withoutEnlargement: true }),
  );
  const blurred = await blurredAs(planted, base);
  const { width, height } = sizeOf(planted, base);
  const grey = planted.megapixels > GREY_FROM_MEGAPIXELS;
  const small = open(blurred).resize(
    Math.round(width / planted.enlarged),
    Math.round(height / planted.enlarged),
    { fit: "fill", kernel: "cubic" },
  );
  const scene = await rawOf(grey ? small.toColourspace("b-w") : small);
  addNoise(scene, planted, random);
  const taken = planted.special === "stamp" ? await stampedWith(scene) : scene;
  return encode(planted, planted.enlarged > 1 ? await enlarged(taken, planted, { width, height }) : taken);
}

function sizeOf({ megapixels }: Planted, { info }: Raw) {
  const width = Math.round(Math.sqrt((megapixels * 1e6 * info.width) / info.height));
  return { width, height: Math.round((width * info.height) / info.width) };
}

/** Blur in both directions alike; with a soft background only what lies outside an oval in the middle gets more. */
async function blurredAs({ blurSpots, special, spots }: Planted, base: Raw): Promise<Raw> {
  const pxPerSpot = base.info.width / spots;
  const blurTo = async (fwhmSpots: number): Promise<Raw> => {
    const sigma = (fwhmSpots * pxPerSpot) / FWHM_PER_SIGMA;
    return sigma < 0.3 ? base : rawOf(open(base).blur(sigma));
  };
  const subject = await blurTo(blurSpots);
  if (special !== "soft-background") return subject;
  const background = await blurTo(Math.hypot(blurSpots, BACKGROUND_BLUR_SPOTS));
  const { width, height } = base.info;
  const oval = Buffer.from(
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><ellipse cx="${width / 2}" cy="${height / 2}" rx="${0.3 * width}" ry="${0.38 * height}"/></svg>`,
  );
  const cut = await open(subject)
    .ensureAlpha()
    .composite([{ input: oval, blend: "dest-in" }])
    .png()
    .toBuffer();
  return rawOf(
    open(background)
      .composite([{ input: cut }])
      .removeAlpha(),
  );
}

/** Grain of one tone, of known spread for each pixel; or nothing but noise. */
function addNoise({ data, info: { channels } }: Raw, { noiseCodes, special }: Planted, random: Random): void {
  const pure = special === "pure-noise";
  if (!pure && noiseCodes === 0) return;
  const deviates = Float32Array.from({ length: 0x10000 }, () => normalDeviate(random));
  const spread = pure ? 60 : noiseCodes;
  for (let i = 0; i < data.length; i += channels) {
    const deviate = spread * deviates[Math.floor(random() * 0x10000)];
    for (let c = i; c < i + channels; c++) {
      data[c] = Math.max(0, Math.min(255, Math.round((pure ? 128 : data[c]) + deviate)));
    }
  }
}

async function enlarged(
  taken: Raw,
  { quality }: Planted,
  { width, height }: { width: number; height: number },
) {
  const sent = quality === 100 ? taken : await rawOf(sharp(await open(taken).jpeg({ quality }).toBuffer()));
  return rawOf(open(sent).resize(width, height, { fit: "fill", kernel: "cubic" }));
}

function encode({ format, quality, enlarged }: Planted, raw: Raw): Promise<Buffer> {
  const image = open(raw);
  const encodings: Readonly<Record<Planted["format"], () => Sharp>> = {
    jpeg: () => image.jpeg({ quality: enlarged > 1 ? 95 : quality }),
    png: () => image.png({ compressionLevel: 1 }),
    webp: () => image.webp({ quality: 90, effort: 0 }),
    tiff: () => image.tiff({ compression: "none" }),
    avif: () => image.avif({ quality: 80, effort: 0 }),
    gif: () => image.gif({ effort: 1 }),
  };
  return encodings[format]().toBuffer();
}
