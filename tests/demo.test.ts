import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Report } from "../src/index.js";
import { namesIn, temporaryFolder } from "./cli/command.js";

const root = fileURLToPath(new URL("../", import.meta.url));
const folder = temporaryFolder();
afterAll(() => folder.remove());
const output = (name: string): string => folder.in("demo-output", name);

/** What the demo promises of each sample picture: the material and a side in mm. */
const PIECES = [
  ["harbour", "maple", { widthMm: 120 }],
  ["dog-on-quay", "slate", { widthMm: 60 }],
  ["lighthouse", "black-anodised-aluminium", { heightMm: 90 }],
  ["portrait", "vegetable-tanned-leather", { heightMm: 80 }],
  ["nets", "coated-steel", { widthMm: 100 }],
  ["step-wedge", "cherry", { widthMm: 80 }],
  ["logo", "maple", { widthMm: 30 }],
] as const;
const ENDINGS = ["burn.png", "preview.png", "report.html", "report.json"];

describe("the demo", () => {
  let said = "";
  beforeAll(() => {
    const { status, stdout, stderr } = spawnSync(
      `${root}node_modules/.bin/tsx`,
      [`${root}sample-images/demo.ts`],
      { cwd: folder.path, encoding: "utf8" },
    );
    expect([status, stderr]).toEqual([0, ""]);
    said = stdout;
  });

  it("writes four files for each picture, below the folder that it runs in, and nothing else", () => {
    const wanted = PIECES.flatMap(([stem]) => ENDINGS.map((ending) => `${stem}.${ending}`));
    expect(namesIn(folder.in("demo-output"))).toEqual(wanted.sort());
    expect(namesIn(folder.path)).toEqual(["demo-output"]);
  });

  it("shows every command and ends with where to look", () => {
    for (const [stem] of PIECES)
      expect(said).toMatch(new RegExp(`^\\$ npx spotpitch prepare sample-images/${stem}\\.`, "m"));
    expect(said.trimEnd().split("\n").at(-1)).toContain("demo-output/*.report.html");
  });

  it.each(PIECES)("%s: on %s, %j, in files that can be read", async (stem, material, size) => {
    const { job } = JSON.parse(readFileSync(output(`${stem}.report.json`), "utf8")) as Report;
    expect(job.material).toBe(material);
    for (const [side, mm] of Object.entries(size)) {
      expect(Math.abs(job[side as "widthMm" | "heightMm"] - mm)).toBeLessThanOrEqual(job.pitchAlongMm);
    }
    const burn = await sharp(output(`${stem}.burn.png`))
      .raw()
      .toBuffer({ resolveWithObject: true });
    expect(burn.info).toMatchObject({ width: job.columns, height: job.rows });
    const { channels } = await sharp(output(`${stem}.preview.png`)).stats();
    // A picture, not one flat colour.
    expect(channels[0].stdev).toBeGreaterThan(1);
    const page = readFileSync(output(`${stem}.report.html`), "utf8");
    expect(page).toMatch(/^<!doctype html>/i);
    expect(page).toMatch(/<\/html>\s*$/);
    expect(page).toContain(material);
  });
});
