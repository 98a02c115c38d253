import { readdirSync, readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { UploadEntry } from "../../../src/batch/entry.js";
import { temporaryFolder } from "../command.js";
import { HOSTILE_LIMITS, makeHostileUploads, type Wanted } from "./hostile-uploads.js";
import { type Ended, entriesIn, runBatch } from "./uploads.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());
const uploads = folder.in("uploads");
const out = folder.in("out");
const wanted: ReadonlyMap<string, Wanted> = await makeHostileUploads(uploads);
const all = [...wanted];

let ended: Ended;
let entries: Map<string, UploadEntry>;

beforeAll(async () => {
  const quick = ["--width", "8mm", "--method", "floyd-steinberg"];
  ended = await runBatch([uploads, "--recursive", ...quick, ...HOSTILE_LIMITS, "--out", out]);
  entries = entriesIn(out);
});

describe("hostile uploads", () => {
  it("end with status 4 and no word of an inner failure", () => {
    expect([ended.status, ended.stderr]).toEqual([4, ""]);
  });

  it.each(all.filter(([, comes]) => comes.startsWith("INPUT_")))("refuses %j as %s", (file, code) => {
    expect(entries.get(file)).toMatchObject({ state: "refused", grade: "ask", code, outputs: [] });
    expect(entries.get(file)?.message.length).toBeGreaterThan(10);
  });

  it.each(all.filter(([, comes]) => comes === "prepared"))("prepares %j all the same", (file) =>
    expect(entries.get(file)).toMatchObject({ state: "prepared", outputs: { length: 4 } }),
  );

  it("has the customer asked where data in the middle of a JPEG are overwritten", () => {
    expect(entries.get("overwritten.jpg")).toMatchObject({ grade: "ask", code: "DAMAGED" });
  });

  it.each(all.filter(([, comes]) => comes === "either"))("ends for %j in one or the other", (file) => {
    const { state, code } = entries.get(file) ?? {};
    expect(state === "prepared" ? "INPUT_" : code).toMatch(/^INPUT_/);
  });

  it("give every upload one verdict, and every file that is named is there and nobody else's", () => {
    expect([...entries.keys()].sort()).toEqual([...wanted.keys()].sort());
    const outputs = [...entries.values()].flatMap((entry) => entry.outputs);
    expect(new Set(outputs.map((path) => path.toLowerCase())).size).toBe(outputs.length);
    for (const path of outputs) expect(readFileSync(`${out}/${path}`).length).toBeGreaterThan(0);
  });

  it("write nothing beside the output folder, and keep formulas out of the table", () => {
    expect(readdirSync(folder.path).sort()).toEqual(["out", "uploads"]);
    expect(readFileSync(`${out}/batch.csv`, "utf8")).toMatch(/^"?'=1\+1\.jpg/m);
  });

  it("say nothing that a terminal would obey, in the summary or in the table", () => {
    expect(ended.stdout.replaceAll("\n", "")).not.toMatch(/[\p{Cc}\p{Cf}]/u);
    expect(readFileSync(`${out}/batch.csv`, "utf8").replaceAll("\n", "")).not.toMatch(/[\p{Cc}\p{Cf}]/u);
  });

  it("are escaped on the page, and shown with marks in place of what would turn their names round", () => {
    const page = readFileSync(`${out}/index.html`, "utf8");
    // Its data and its own script, which alone may run (Content Security Policy Level 3, W3C).
    expect(page.match(/<script\b/g)).toHaveLength(2);
    expect(page).toMatch(
      /Content-Security-Policy" content="default-src 'none';[^"]*script-src 'sha256-[^ ]+'"/,
    );
    expect(page).not.toMatch(/<img src=x/);
    expect(page).toContain("&lt;img src=x onerror=alert(1)&gt;.jpg");
    expect(page).not.toContain("\u202e");
  });
});
