/**
 * The README's pictures, made from our own samples: `npm run pictures [-- folder]`. Each row of a sheet shows one crop three times at the
 * same magnification: the photo as wanted, the pixels that burn, and the predicted piece in the material's colours.
 */
import { mkdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import {
  findMaterial,
  linearFromSrgb,
  type Plane,
  type PrepareOptions,
  prepare,
  srgbFromLinear,
} from "../src/index.js";

const here = fileURLToPath(new URL(".", import.meta.url));
const out = process.argv[2] === undefined ? `${here}readme/` : `${process.argv[2]}/`;

/** Side of a crop in burn pixels, and how often each is repeated on the screen. */
const CROP_PX = 150;
const ZOOM = 2;
const GAP_PX = 12;

interface Row {
  readonly photo: string;
  readonly options: PrepareOptions & { readonly material: string };
  /** Middle of the crop, as a share of width and height. */
  readonly at: readonly [x: number, y: number];
}

type Tile = { readonly rgb: Uint8Array; readonly side: number };

async function threeTiles({ photo, options, at }: Row): Promise<Tile[]> {
  const piece = await prepare(readFileSync(here + photo), options, { fileName: photo });
  const { predicted, wanted, bitmap } = piece;
  if (!predicted) throw new Error(`${photo}: no prediction`);
  const material = findMaterial(options.material);
  const { darkestLuminance = 0, lightestLuminance = 1 } = piece.report.prediction ?? {};
  const grey = (plane: Plane<"luminance-factor">) =>
    tile(plane, at, (value) => {
      const share = (value - darkestLuminance) / (lightestLuminance - darkestLuminance);
      const code = Math.round(255 * srgbFromLinear(Math.min(1, Math.max(0, share))));
      return [code, code, code];
    });
  const [bare, marked] = [material.curve.bare, material.curve.saturated];
  const [from, to] = [channels(material.bareColor), channels(material.markedColor)];
  const painted = tile(predicted, at, (value) => {
    const share = Math.min(1, Math.max(0, (value - bare) / (marked - bare)));
    return from.map((channel, c) => Math.round(255 * srgbFromLinear(channel + share * (to[c] - channel))));
  });
  const bits = tile(bitmap, at, (bit) => (bit === 1 ? [0x14, 0x14, 0x14] : [0xff, 0xff, 0xff]));
  return [grey(wanted), bits, painted];
}

function tile(
  plane: Plane<"luminance-factor"> | Plane<"bitmap", Uint8Array>,
  [atX, atY]: readonly [number, number],
  colour: (value: number) => readonly number[],
): Tile {
  const { pixels } = plane;
  const [rows = 0, columns = 0] = pixels.shape;
  const left = Math.min(columns - CROP_PX, Math.max(0, Math.round(atX * columns - CROP_PX / 2)));
  const top = Math.min(rows - CROP_PX, Math.max(0, Math.round(atY * rows - CROP_PX / 2)));
  const side = CROP_PX * ZOOM;
  const rgb = new Uint8Array(3 * side * side);
  for (let y = 0; y < side; y++) {
    for (let x = 0; x < side; x++) {
      const value = pixels.get(top + Math.floor(y / ZOOM), left + Math.floor(x / ZOOM));
      rgb.set(colour(value), 3 * (y * side + x));
    }
  }
  return { rgb, side };
}

const channels = (hex: string): number[] =>
  [1, 3, 5].map((at) => linearFromSrgb(Number.parseInt(hex.slice(at, at + 2), 16) / 255));

async function writeSheet(file: string, rows: readonly (readonly Tile[])[]): Promise<void> {
  const side = CROP_PX * ZOOM;
  const columns = Math.max(...rows.map((row) => row.length));
  const width = columns * side + (columns - 1) * GAP_PX;
  const height = rows.length * side + (rows.length - 1) * GAP_PX;
  const layers = rows.flatMap((row, j) =>
    row.map((cell, i) => ({
      input: Buffer.from(cell.rgb),
      raw: { width: cell.side, height: cell.side, channels: 3 as const },
      left: i * (side + GAP_PX),
      top: j * (side + GAP_PX),
    })),
  );
  await sharp({ create: { width, height, channels: 3, background: "#ffffff" } })
    .composite(layers)
    .png({ palette: true, colours: 128, dither: 0, compressionLevel: 9 })
    .toFile(out + file);
  console.log(file, width, height);
}

mkdirSync(out, { recursive: true });

const dog = { photo: "dog-on-quay.jpg", at: [0.4, 0.2] } as const;
await writeSheet(
  "materials.png",
  await Promise.all([
    threeTiles({
      ...dog,
      options: {
        widthMm: 40,
        linesPerInch: 254,
        spotMm: 0.115,
        material: "maple",
        method: "floyd-steinberg",
      },
    }),
    threeTiles({
      photo: "lighthouse.jpg",
      at: [0.55, 0.16],
      options: { heightMm: 60, linesPerInch: 254, spotMm: 0.1, material: "slate", method: "ostromoukhov" },
    }),
  ]),
);

const harbour = {
  widthMm: 40,
  linesPerInch: 508,
  spotMm: 0.115,
  material: "maple",
  method: "floyd-steinberg",
} as const;
await writeSheet("compensation.png", [
  await threeTiles({ photo: "harbour.jpg", at: [0.58, 0.5], options: { ...harbour, compensate: false } }),
  await threeTiles({ photo: "harbour.jpg", at: [0.58, 0.5], options: harbour }),
]);
