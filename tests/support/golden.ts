import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import pixelmatch from "pixelmatch";
import { PNG } from "pngjs";

const goldens = fileURLToPath(new URL("../golden/", import.meta.url));
const failures = fileURLToPath(new URL("../output/", import.meta.url));

/**
 * Number of pixels in which a PNG differs from the golden picture of that name, at zero tolerance; −1 where the sizes
 * differ. UPDATE_GOLDEN=1 rewrites the golden. On a difference actual, expected and diff are written to tests/output/.
 *
 * A golden is our own output, looked at once: it guards against change, not against error.
 */
export function differenceFromGolden(name: string, file: Uint8Array): number {
  const path = `${goldens}${name}.png`;
  if (process.env.UPDATE_GOLDEN === "1" || !existsSync(path)) {
    if (process.env.CI) throw new Error(`There is no golden picture ${name}.`);
    writeFileSync(path, file);
  }
  const actual = PNG.sync.read(Buffer.from(file));
  const expected = PNG.sync.read(readFileSync(path));
  if (actual.width !== expected.width || actual.height !== expected.height) return -1;
  const diff = new PNG({ width: actual.width, height: actual.height });
  const options = { threshold: 0, includeAA: true };
  const count = pixelmatch(actual.data, expected.data, diff.data, actual.width, actual.height, options);
  if (count > 0) {
    mkdirSync(failures, { recursive: true });
    writeFileSync(`${failures}${name}.actual.png`, file);
    writeFileSync(`${failures}${name}.expected.png`, readFileSync(path));
    writeFileSync(`${failures}${name}.diff.png`, PNG.sync.write(diff));
  }
  return count;
}
