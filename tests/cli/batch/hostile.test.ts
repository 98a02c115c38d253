import { readdirSync, readFileSync } from "node:fs";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { UploadEntry } from "../../../src/index.js";
import { photographPath } from "../../pipeline/photograph.js";
import { temporaryFolder } from "../command.js";
import { notFiles, oddUploads, putHostileUploads, refusedUploads } from "./hostile-uploads.js";
import { type Ended, entriesIn, runBatch } from "./uploads.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());
const uploads = folder.in("uploads");
const out = folder.in("out");
const good = await sharp(photographPath("black-canyon")).resize(260).jpeg().toBuffer();

let ended: Ended;
let entries: Map<string, UploadEntry>;

beforeAll(async () => {
  putHostileUploads(uploads, good);
  const limits = ["--max-file-size", "25", "--max-megapixels", "50", "--max-seconds", "60"];
  const quick = ["--width", "8mm", "--method", "floyd-steinberg"];
  ended = await runBatch([uploads, "--recursive", ...quick, ...limits, "--out", out]);
  entries = entriesIn(out);
});

describe("hostile uploads", () => {
  it("end with status 4 and no word of an inner failure", () => {
    expect([ended.status, ended.stderr]).toEqual([4, ""]);
  });

  const codes = Object.entries(refusedUploads(good)).flatMap(([code, files]) =>
    Object.keys(files).map((file) => [file, code]),
  );
  it.each([...codes, ...Object.entries(notFiles)])("refuses %s as %s", (file, code) => {
    expect(entries.get(file)).toMatchObject({ state: "refused", grade: "ask", code, outputs: [] });
    expect(entries.get(file)?.message.length).toBeGreaterThan(10);
  });

  it.each(Object.keys(oddUploads(good)))("prepares %j all the same", (file) =>
    expect(entries.get(file)).toMatchObject({ state: "prepared", outputs: { length: 4 } }),
  );

  it("give every upload one verdict, and every file that is named is there and nobody else's", () => {
    const found = readdirSync(uploads, { recursive: true, encoding: "utf8" }).filter(
      (name) => name !== "deep" && !name.startsWith("deep/away/"),
    );
    expect([...entries.keys()].sort()).toEqual(found.sort());
    const outputs = [...entries.values()].flatMap((entry) => entry.outputs);
    expect(new Set(outputs.map((path) => path.toLowerCase())).size).toBe(outputs.length);
    for (const path of outputs) expect(readFileSync(`${out}/${path}`).length).toBeGreaterThan(0);
  });

  it("write nothing beside the output folder, and keep formulas out of the table", () => {
    expect(readdirSync(folder.path).sort()).toEqual(["out", "uploads"]);
    expect(readFileSync(`${out}/batch.csv`, "utf8")).toMatch(/^"?'=1\+1\.jpg/m);
  });

  it("put nothing into a terminal that it would obey", () => {
    expect(ended.stdout.replaceAll("\n", "")).not.toMatch(/[\p{Cc}\p{Cf}]/u);
  });
});
