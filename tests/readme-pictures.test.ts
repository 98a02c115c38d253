import { spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import pixelmatch from "pixelmatch";
import { PNG } from "pngjs";
import { expect, it } from "vitest";

const root = fileURLToPath(new URL("../", import.meta.url));
const shown = join(root, "sample-images/readme");

it("the README's pictures are what the code makes of the samples today, to the pixel", () => {
  const folder = mkdtempSync(join(tmpdir(), "spotpitch-"));
  try {
    const made = spawnSync("npx", ["tsx", "sample-images/readme-pictures.ts", folder], {
      cwd: root,
      encoding: "utf8",
    });
    expect(made.status, made.stderr).toBe(0);
    const names = readdirSync(folder);
    expect(names.sort()).toEqual(readdirSync(shown).sort());
    for (const name of names) {
      const [now, then] = [folder, shown].map((from) => PNG.sync.read(readFileSync(join(from, name))));
      expect([now.width, now.height]).toEqual([then.width, then.height]);
      const options = { threshold: 0, includeAA: true };
      expect(pixelmatch(now.data, then.data, undefined, now.width, now.height, options), name).toBe(0);
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
});
