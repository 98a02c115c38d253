/**
 * The pictures of the README, made from our samples: `npm run pictures [-- folder]`. Each row of a sheet shows one crop three times
 * at the same magnification: the wanted tones, the pixels that burn, and the predicted piece. The first and the last have the
 * colours and the range of the material, so they can be compared. (In black and white, the wanted tones would show a few specks
 * beside bright edges: there the resampling filter overshoots to black, although no pixel nearby is below L* 10.)
 */
import { mkdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { materialPainter } from "../src/6-report/pictures/appearance.js";
import { findMaterial, type PrepareOptions } from "../src/index.js";
import { type Planes, planesOf } from "./planes.js";

const here = fileURLToPath(new URL(".", import.meta.url));
const out = process.argv[2] === undefined ? `${here}readme/` : `${process.argv[2]}/`;

/** Side of a crop in burn pixels, and screen pixels per burn pixel. */
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
  const planes = await planesOf(readFileSync(here + photo), options);
  const { bareColor, markedColor, curve } = findMaterial(options.material);
  const paint = materialPainter(bareColor, markedColor, curve.bare, curve.saturated);
  const bits = tile(planes, "bits", at, (bit, rgb, to) => rgb.fill(bit === 1 ? 0x14 : 0xff, to, to + 3));
  return [tile(planes, "wanted", at, paint), bits, tile(planes, "predicted", at, paint)];
}

function tile(
  planes: Planes,
  which: "wanted" | "bits" | "predicted",
  [atX, atY]: readonly [number, number],
  paint: (value: number, rgb: Uint8Array, at: number) => void,
): Tile {
  const { columns, rows } = planes;
  const left = Math.min(columns - CROP_PX, Math.max(0, Math.round(atX * columns - CROP_PX / 2)));
  const top = Math.min(rows - CROP_PX, Math.max(0, Math.round(atY * rows - CROP_PX / 2)));
  const side = CROP_PX * ZOOM;
  const rgb = new Uint8Array(3 * side * side);
  for (let y = 0; y < side; y++) {
    for (let x = 0; x < side; x++) {
      const pixel = (top + Math.floor(y / ZOOM)) * columns + left + Math.floor(x / ZOOM);
      paint(planes[which][pixel], rgb, 3 * (y * side + x));
    }
  }
  return { rgb, side };
}

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

/** One of each character, in the order of the caption. */
const GALLERY = [
  ["floyd-steinberg", "ostromoukhov", "blue-noise"],
  ["green-noise", "clustered-dot", "dose-feedback"],
] as const;

async function predictedTile(method: string): Promise<Tile> {
  const options = { heightMm: 50, linesPerInch: 338, spotMm: 0.115, material: "maple", method } as const;
  const [, , predicted] = await threeTiles({ photo: "portrait.jpg", at: [0.5, 0.38], options });
  return predicted;
}

await writeSheet("methods.png", await Promise.all(GALLERY.map((row) => Promise.all(row.map(predictedTile)))));

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
