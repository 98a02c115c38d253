import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { defaultLimits } from "../../../src/batch/limits.js";
import { sha256 } from "../../../src/batch/sha256.js";
import { type PrepareTask, prepareUpload } from "../../../src/cli/batch/upload-job.js";
import { METRIC } from "../../../src/core/shown-units.js";
import { photographPath } from "../../pipeline/photograph.js";
import { namesIn, temporaryFolder } from "../command.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

beforeAll(async () => {
  mkdirSync(folder.in("uploads"));
  await sharp(photographPath("black-canyon")).resize(160).png().toFile(folder.in("uploads", "boat.png"));
  writeFileSync(
    folder.in("uploads", "logo.svg"),
    '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><script>1</script></svg>',
  );
});

/** A task as a queue would pass it on, without a pool. */
function taskFor(name: string, into: string): PrepareTask {
  const path = folder.in("uploads", name);
  return {
    upload: { id: name, path },
    limits: defaultLimits,
    options: { widthMm: 6, method: "floyd-steinberg", bitmapOnly: true },
    asGiven: { units: METRIC },
    contentSha256: sha256(readFileSync(path)),
    folder: folder.in(into),
    stem: "boat",
  };
}

describe("prepareUpload, run by nobody's pool", () => {
  it("writes the files and tells what they hold", async () => {
    const prepared = await prepareUpload(taskFor("boat.png", "made"));
    if (!("files" in prepared)) throw new Error(prepared.refused.message);
    expect(prepared.files.map(({ path }) => path).sort()).toEqual(namesIn(folder.in("made")));
    for (const { path, sha256: told } of prepared.files) {
      expect(sha256(readFileSync(folder.in("made", path)))).toBe(told);
    }
    expect(prepared.figures.widthMm).toBeCloseTo(6, 1);
  });

  it.each([
    ["a drawing with a script", taskOf("logo.svg", {}), "INPUT_UNSAFE_DRAWING"],
    ["content that was not surveyed", taskOf("boat.png", { contentSha256: "other" }), "INPUT_CHANGING"],
    [
      "too many pixels",
      taskOf("boat.png", { limits: { ...defaultLimits, maxPixels: 99 } }),
      "INPUT_TOO_LARGE",
    ],
  ])("refuses %s by itself, and writes nothing", async (_what, task, code) => {
    const beforeWriting = vi.fn();
    expect(await prepareUpload(task(), beforeWriting)).toMatchObject({ refused: { code } });
    expect(beforeWriting).not.toHaveBeenCalled();
    expect(existsSync(folder.in("refused"))).toBe(false);
  });

  it("writes nothing where nobody waits for the files any more", async () => {
    const gone = (): never => {
      throw new Error("The command has died.");
    };
    await expect(prepareUpload(taskFor("boat.png", "refused"), gone)).rejects.toThrow("has died");
    expect(existsSync(folder.in("refused"))).toBe(false);
  });
});

function taskOf(name: string, other: Partial<PrepareTask>) {
  return (): PrepareTask => ({ ...taskFor(name, "refused"), ...other });
}
