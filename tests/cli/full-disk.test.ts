import { rmSync, statSync, writeFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { photographPath } from "../pipeline/photograph.js";
import { mountSmallDisk, NO_SMALL_DISK, type SmallDisk } from "../support/small-disk.js";
import { treeOf } from "./batch/uploads.js";
import { namesIn, temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";

const folder = temporaryFolder();
const piece = (material: string, out: string): Promise<{ status: number | null; stderr: string }> => {
  const cat = photographPath("locomotion-house-cat");
  return spotpitchHere(
    "prepare",
    cat,
    "--width",
    "20",
    "--method",
    "bayer-8",
    "--material",
    material,
    "--out",
    out,
  );
};
const DISK_KILOBYTES = 4096;

let disk: SmallDisk | undefined;
let pieceBytes = 0;
beforeAll(async () => {
  disk = mountSmallDisk(folder.in("disk"), DISK_KILOBYTES);
  const roomy = folder.in("roomy");
  expect((await piece("maple", roomy)).status).toBe(0);
  const sizes = namesIn(roomy).map((name) => statSync(`${roomy}/${name}`).size);
  expect(sizes).toHaveLength(4);
  pieceBytes = sizes.reduce((sum, size) => sum + size, 0);
});
afterAll(() => {
  disk?.remove();
  folder.remove();
});

const refusal = (out: string) =>
  `spotpitch: Cannot write to "${out}": the disk is full. Nothing was written; choose another folder with --out.\n`;

describe("prepare on a disk that fills up writes all files of a piece or none", () => {
  // Each time another file is the first that does not fit.
  it.for([0.02, 0.3, 0.6, 0.95])("room for %d of them: none", async (share, { skip }) => {
    if (!disk) return skip(NO_SMALL_DISK);
    const out = `${disk.path}/out`;
    writeFileSync(`${disk.path}/full`, new Uint8Array(1024 * DISK_KILOBYTES - share * pieceBytes));
    expect(await piece("maple", out)).toMatchObject({ status: 1, stdout: "", stderr: refusal(out) });
    expect(namesIn(out)).toEqual([]);
    rmSync(`${disk.path}/full`);
  });

  it("room for all of them: all, and they stay where another piece of that name does not fit", async ({
    skip,
  }) => {
    if (!disk) return skip(NO_SMALL_DISK);
    const out = `${disk.path}/out`;
    writeFileSync(`${disk.path}/full`, new Uint8Array(1024 * DISK_KILOBYTES - 1.5 * pieceBytes));
    expect(await piece("maple", out)).toMatchObject({ status: 0, stderr: "" });
    const whole = treeOf(out);
    expect(Object.keys(whole)).toHaveLength(4);
    expect(await piece("slate", out)).toMatchObject({ status: 1, stderr: refusal(out) });
    expect(treeOf(out)).toEqual(whole);
  });
});
