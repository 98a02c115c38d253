import { mkdir } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { develop } from "./film.js";
import { drawLogo } from "./logo.js";
import type { Picture } from "./picture.js";
import { drawStepWedge } from "./step-wedge.js";
import { writeGrey16, writeJpeg, writeText } from "./write.js";

// npx tsx sample-images/render/main.ts [name ...] [--scale 0.25] [--out folder]

/** Loaded on demand: some scenes sample their shapes on loading. */
const PICTURES: Record<string, () => Promise<{ picture: Picture }>> = {
  harbour: () => import("./scenes/harbour.js"),
  lighthouse: () => import("./scenes/lighthouse.js"),
  "dog-on-quay": () => import("./scenes/dog-on-quay.js"),
  nets: () => import("./scenes/nets.js"),
  portrait: () => import("./scenes/portrait.js"),
};

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    scale: { type: "string", default: "1" },
    out: { type: "string", default: dirname(dirname(fileURLToPath(import.meta.url))) },
  },
});
const ratio = Number(values.scale);
if (!(ratio > 0 && ratio <= 2)) throw new RangeError(`--scale must lie in 0..2, not ${values.scale}`);
const known = [...Object.keys(PICTURES), "logo", "step-wedge"];
for (const name of positionals) {
  if (!known.includes(name)) throw new RangeError(`no picture "${name}"; there are ${known.join(", ")}`);
}
const wanted = (name: string): boolean => positionals.length === 0 || positionals.includes(name);
const report = (file: string, startMs: number): void =>
  console.log(`${file}  ${((performance.now() - startMs) / 1000).toFixed(1)} s`);

await mkdir(values.out, { recursive: true });
for (const [index, [name, load]] of Object.entries(PICTURES).entries()) {
  if (!wanted(name)) continue;
  const startMs = performance.now();
  const { picture } = await load();
  const image = picture.render(Math.round(picture.widthPx * ratio), Math.round(picture.heightPx * ratio));
  const file = join(values.out, `${name}.jpg`);
  await writeJpeg(file, image.width, image.height, develop(image, picture.film, index + 1));
  report(file, startMs);
}
if (wanted("logo")) await writeText(join(values.out, "logo.svg"), drawLogo());
if (wanted("step-wedge")) {
  const wedge = drawStepWedge();
  await writeGrey16(join(values.out, "step-wedge.png"), wedge.width, wedge.height, wedge.levels);
}
