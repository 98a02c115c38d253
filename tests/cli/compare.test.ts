import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Comparison } from "../../src/index.js";
import { photographPath } from "../pipeline/photograph.js";
import { namesIn, temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";
import { at } from "./report-keys.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());
const boats = photographPath("nagasaki-boats");
const typed = ["compare", boats, "--width", "8", "--method", "floyd-steinberg,bayer-8"];

describe("compare", () => {
  const out = folder.in("compared");
  let said = "";
  beforeAll(async () => {
    const { status, stdout, stderr } = await spotpitchHere(
      ...typed,
      "--material",
      "maple,slate",
      "--out",
      out,
    );
    expect([status, stderr]).toEqual([0, ""]);
    said = stdout;
  });

  it("writes figures, all or none, and a table with the three winners", () => {
    expect(namesIn(out).sort()).toEqual(["compare.csv", "compare.html", "compare.json", "compare.png"]);
    expect(said.match(/^[ →] (floyd-steinberg|bayer-8) /gm)).toHaveLength(4);
    for (const winner of ["nominal", "robust", "fast"])
      expect(said).toMatch(new RegExp(`^${winner} +\\S`, "m"));
  });

  it("tells the warnings for the winners, and that errors belong to their material", () => {
    expect(said).toMatch(/^note {7}An error is against the tones that the material can show/m);
    const { candidates, winners } = JSON.parse(readFileSync(`${out}/compare.json`, "utf8")) as Comparison;
    for (const { message } of candidates[winners.robust].warnings) expect(said).toContain(message);
    const page = readFileSync(`${out}/compare.html`, "utf8");
    const warnings = /Warnings<\/h2>(.*?)<\/section>/s.exec(page)?.[1] ?? "";
    for (const material of ["maple", "slate"]) {
      expect(said).toMatch(new RegExp(`^warning .*Nobody measured the tones of ${material}`, "m"));
      expect(warnings).toContain(`Nobody measured the tones of ${material}`);
    }
  });

  it("says in its first line what to take on each material, and marks it in the table", () => {
    const { candidates, recommended } = JSON.parse(readFileSync(`${out}/compare.json`, "utf8")) as Comparison;
    expect(said.split("\n")[0]).toBe(recommended.sentence);
    expect(recommended.candidates.map((k) => candidates[k].material)).toEqual(["maple", "slate"]);
    const marked = said.match(/^→ .*/gm) ?? [];
    expect(marked.map((line) => line.split(/ +/).slice(1, 3))).toEqual(
      recommended.candidates.map((k) => [candidates[k].method, candidates[k].material]),
    );
  });

  it("says what the figures of its table mean", () => {
    for (const term of ["error", "expected", "uneven", "tone shift", "grain", "held", "switched"])
      expect(said).toMatch(new RegExp(`^${term} +\\S`, "m"));
  });

  it("writes a CSV file with one line for each candidate and as many fields as the head", () => {
    const lines = readFileSync(`${out}/compare.csv`, "utf8").trimEnd().split("\r\n");
    const { candidates } = JSON.parse(readFileSync(`${out}/compare.json`, "utf8")) as Comparison;
    expect(lines).toHaveLength(1 + candidates.length);
    const head = lines[0].split(",");
    const [first] = candidates;
    const written = Number(lines[1].split(",")[head.indexOf("visualErrorRms")]);
    expect(written).toBeCloseTo(first.visualErrorRms, 4);
  });

  it("takes power levels by commas, and keeps computing times out of its files", async () => {
    const levels = folder.in("levels");
    const { status, stdout } = await spotpitchHere(
      ...typed.slice(0, 4),
      ...["--method", "bayer-8", "--levels", "2,4", "--out", levels],
    );
    expect(status).toBe(0);
    expect(stdout).toContain("computing");
    const written = readFileSync(`${levels}/compare.json`, "utf8");
    const { candidates } = JSON.parse(written) as Comparison;
    expect(new Set(candidates.map((one) => one.levels))).toEqual(new Set([2, 4]));
    expect(written + readFileSync(`${levels}/compare.csv`, "utf8")).not.toMatch(/computing/i);
  });

  it("prints the keys of the interface with --json", async () => {
    const { stdout } = await spotpitchHere(...typed, "--json", "--out", folder.in("as-json"));
    const keys =
      "candidates.0.method candidates.0.linesPerInch candidates.0.material candidates.0.visualErrorRms candidates.0.expectedVisualError candidates.0.unevenness candidates.0.toneShift winners.nominal winners.robust winners.fast recommended.candidates.0 recommended.sentence";
    const made = JSON.parse(stdout) as Comparison;
    for (const key of keys.split(" ")) expect(at(made, key), key).toBeDefined();
  });

  it("says which methods it left out, and why", async () => {
    const { stdout } = await spotpitchHere(
      ...["compare", boats, "--width", "2", "--density", "120", "--levels", "4", "--no-compensate"],
      ...["--out", folder.in("all")],
    );
    for (const method of ["green-noise", "dose-feedback"])
      expect(stdout).toMatch(
        new RegExp(`^left out +${method}: it burns dots that are on or off, .* 4 power levels$`, "m"),
      );
    expect(stdout).not.toMatch(/^left out +ostromoukhov/m);
  });

  it("refuses three lists and writes nothing", async () => {
    const refused = folder.in("refused");
    const lists = ["--material", "maple,slate", "--density", "200,300"];
    const { status, stderr } = await spotpitchHere(...typed, ...lists, "--out", refused);
    expect(status).toBe(2);
    expect(stderr).toMatch(/^spotpitch: --\S+ takes one value where two other options are lists/);
  });
});
