import type { Random } from "../../src/core/random.js";

/** What was planted in an upload. Lengths are in spots on the piece. */
export interface Planted {
  readonly photograph: string;
  /** True for the half of the photographs on which thresholds were set. */
  readonly setting: boolean;
  readonly megapixels: number;
  readonly format: "jpeg" | "png" | "webp" | "tiff" | "avif" | "gif";
  /** Full width at half maximum of the blur, without the photograph's own. */
  readonly blurSpots: number;
  /** Standard deviation in 8-bit codes for each pixel of the upload. */
  readonly noiseCodes: number;
  /** Of the first and the last time that it was compressed; 100 for never. */
  readonly quality: number;
  /** Factor by which it was enlarged after it was compressed; 1 for not. */
  readonly enlarged: number;
  readonly special: "none" | "stamp" | "soft-background" | "pure-noise";
  /** Width of the piece. */
  readonly spots: number;
  readonly spotMm: number;
}

const MEGAPIXELS = [0.3, 0.3, 0.5, 0.5, 0.8, 0.8, 1.2, 2, 3, 5, 8, 12, 12, 16, 24] as const;
const BLURS = [0, 0, 1, 1.6, 2.5, 3, 4, 5, 6.2, 7, 8, 10, 14, 20] as const;
const NOISES = [0, 0, 1, 2, 4, 8] as const;
const QUALITIES = [15, 25, 40, 60, 75, 85, 92, 98] as const;
const FORMATS = ["jpeg", "jpeg", "jpeg", "jpeg", "jpeg", "png", "webp", "tiff", "avif", "gif"] as const;

const pick = <T>(random: Random, list: readonly T[]): T => list[Math.floor(random() * list.length)];

/** Draws uploads by chance; each photograph has its turn. */
export function drawUploads(count: number, photographs: readonly string[], random: Random): Planted[] {
  return Array.from({ length: count }, (_, i) => {
    const photograph = photographs[i % photographs.length];
    const upload = drawUpload(random, i);
    return { photograph, setting: (i % photographs.length) % 2 === 0, ...upload };
  });
}

function drawUpload(random: Random, i: number): Omit<Planted, "photograph" | "setting"> {
  const special =
    i % 25 === 24
      ? "pure-noise"
      : pick(random, ["none", "none", "none", "stamp", "soft-background"] as const);
  const enlarged = random() < 0.15 ? pick(random, [1.5, 2, 3]) : 1;
  const format = pick(random, FORMATS);
  const megapixels = i % 100 === 50 ? 108 : i % 50 === 10 ? 48 : pick(random, MEGAPIXELS);
  const small = format === "jpeg" || format === "tiff";
  return {
    special,
    enlarged,
    format,
    // Encoders that are slow stay small.
    megapixels: small ? megapixels : Math.min(megapixels, 3),
    blurSpots: special === "pure-noise" ? 0 : pick(random, BLURS),
    noiseCodes: pick(random, NOISES),
    quality: format === "jpeg" || enlarged > 1 ? pick(random, QUALITIES) : 100,
    spots: Math.round(250 + 200 * random()),
    spotMm: pick(random, [0.1, 0.2]),
  };
}
