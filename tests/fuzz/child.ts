/** Runs cases one after the other and tells its parent of each; ends with the first that ends otherwise than it may. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { seededRandom } from "../../src/core/random.js";
import { SpotpitchError } from "../../src/index.js";
import { containers, type Kind } from "./containers.js";
import { mutate } from "./mutate.js";
import { take, validFiles } from "./targets.js";

export type Told =
  | { readonly begun: number; readonly kind: Kind }
  | { readonly ended: number; readonly accepted: boolean; readonly rssBytes: number }
  | { readonly failed: number; readonly kind: Kind; readonly reason: string };

const [first, end] = process.argv.slice(2).map(Number);
const tell = (told: Told): Promise<void> =>
  new Promise((resolve) => process.send?.(told, undefined, undefined, () => resolve()));
const folder = mkdtempSync(join(tmpdir(), "spotpitch-fuzz-"));
process.on("exit", () => rmSync(folder, { recursive: true, force: true }));

const files = [...(await validFiles())];
// What the whole rests on: every file is taken as it is, and after being taken apart and joined.
for (const [kind, bytes] of files) {
  const { parts, join: joined } = containers[kind](bytes);
  await take(kind, joined(parts), folder);
}
for (let i = first; i < end; i++) {
  const [kind, bytes] = files[i % files.length];
  await tell({ begun: i, kind });
  let accepted = true;
  try {
    await take(kind, mutate(containers[kind](bytes), seededRandom(i)), folder);
  } catch (error) {
    accepted = false;
    if (!(error instanceof SpotpitchError) || error.code === "INTERNAL") {
      const reason = error instanceof Error ? (error.stack ?? error.message) : String(error);
      await tell({ failed: i, kind, reason });
    }
  }
  await tell({ ended: i, accepted, rssBytes: process.memoryUsage.rss() });
}
process.disconnect?.();
