import { readFileSync, writeFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { reportJson } from "../../src/6-report/files/report-json.js";
import { commandReader } from "../../src/cli/command-reader.js";
import type { Plan } from "../../src/index.js";
import { photographPath } from "../pipeline/photograph.js";
import { namesIn, spotpitch, temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";
import { at } from "./report-keys.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());
const out = folder.in("planned");
const strip = ["plan", "--kind", "strip", "--width", "60", "--height", "40", "--spot", "0.115mm"];

describe("plan", () => {
  let said = "";
  beforeAll(async () => {
    const { status, stdout, stderr } = await spotpitchHere(
      ...strip,
      "--material",
      "coated-steel",
      "--out",
      out,
    );
    expect([status, stderr]).toEqual([0, ""]);
    said = stdout;
  });

  it("writes plan.html, and nothing else, into a folder that it makes", () => {
    expect(namesIn(out)).toEqual(["plan.html"]);
    expect(said).toContain(`${out}/plan.html`);
  });

  it("shows the densities with one marked, the reason and what would change it", () => {
    expect(said.match(/^→ +\d+ /gm)).toHaveLength(1);
    expect(said).toMatch(/^because +\S.*times as long/m);
    expect(said).toMatch(/^alternatives +\S/m);
    expect(said).toMatch(/^Cautions:\n( {2}- .*\n)+$/m);
  });

  it("prints the keys of the interface with --json, and no number missing", async () => {
    const { stdout } = await spotpitchHere(
      "plan",
      "--width",
      "8",
      "--densities",
      "166,254",
      "--method",
      "bayer-8",
      "--json",
      "--out",
      out,
    );
    const keys =
      "matchedLinesPerInch rows.0.linesPerInch rows.0.seconds rows.0.gapMm rows.0.overlap rows.0.doseFactor rows.0.tonalResolution.0.held recommended.linesPerInch recommended.reason";
    const made = JSON.parse(stdout) as Plan;
    for (const key of keys.split(" ")) expect(at(made, key), key).toBeDefined();
    expect(stdout).not.toMatch(/\bnull\b/);
  });

  it("built, works on several threads as on one", async () => {
    const { plan } = await import("../../src/index.js");
    const boats = photographPath("nagasaki-boats");
    const typed = [
      "--width",
      "10",
      "--densities",
      "200,400",
      "--method",
      "floyd-steinberg",
      "--material",
      "slate",
    ];
    const { stdout } = await spotpitch("plan", boats, ...typed, "--json", "--out", out);
    const options = { widthMm: 10, densities: [200, 400], method: "floyd-steinberg", material: "slate" };
    const here = await plan(options, readFileSync(boats), {
      fileName: "image.jpg",
      reader: commandReader,
    });
    expect(stdout).toBe(reportJson(here));
  });

  it("compares lenses from their optics", async () => {
    const optics = [
      "--wavelength",
      "10.6um",
      "--m2",
      "1.2",
      "--beam-diameter",
      "7mm",
      "--focal-length",
      "1.5in,2in",
    ];
    const { stdout } = await spotpitchHere("plan", "--kind", "strip", ...optics, "--json", "--out", out);
    const { lenses } = JSON.parse(stdout) as Plan;
    // The optics table: 0.1175 mm at 2 inches (Siegman 1986, ch. 17).
    expect(lenses.map(({ spotAcrossMm }) => spotAcrossMm.toFixed(4))).toEqual(["0.0882", "0.1175"]);
  });

  it("takes the same from a config file, lists as lists or as text", async () => {
    const config = folder.in("machine.json");
    writeFileSync(
      config,
      JSON.stringify({ kind: "strip", densities: [150, 254, 508], spot: 0.115, mark: "0.115mm" }),
    );
    const { stdout } = await spotpitchHere("plan", "--config", config, "--json", "--out", out);
    const { rows, recommended } = JSON.parse(stdout) as Plan;
    expect(rows).toHaveLength(3);
    expect(recommended.linesPerInch).toBeCloseTo(254, 3);
  });

  it("takes a config file with the beam's wavelength, which prepare takes too", async () => {
    const config = folder.in("shared.json");
    writeFileSync(config, JSON.stringify({ spot: "0.115mm", wavelength: "10.6um", m2: 1.2 }));
    const typed = ["--kind", "strip", "--densities", "254", "--config", config, "--json", "--out", out];
    const { status, stdout } = await spotpitchHere("plan", ...typed);
    expect(status).toBe(0);
    const { lenses, notes } = JSON.parse(stdout) as Plan;
    expect(lenses.map(({ spotAcrossMm }) => spotAcrossMm)).toEqual([0.115]);
    const idle = notes.filter(({ code }) => code === "option-idle").map(({ message }) => message);
    expect(idle.join()).toMatch(/--wavelength changes nothing here.*--m2 changes nothing here/);
  });
});

describe("what plan refuses", () => {
  it.each([
    [["--kind", "mow"], 2, /--kind takes one of photo, strip, shade; got "mow"/],
    [["--densities", "254,lots"], 2, /--densities takes .*got "lots"/],
    [["--tones", "many"], 2, /--tones takes tones and a detail/],
    [["--tones", "12@0.3mm"], 2, /--tones takes .*0\.15, 0\.25, 0\.5 or 1 mm; got "12@0\.3mm"/],
    [["--wavelength", "10.6"], 2, /--wavelength takes a wavelength such as 10\.6um or 450nm/],
    [["--focal-length", "2in"], 2, /all three are needed/],
    [["--lens", "round"], 2, /--lens takes one of ideal/],
    [["--darkness", "0"], 2, /--darkness takes .*got "0"/],
    [["--material", "vinyl"], 2, /must not be processed/],
    [["--density", "254"], 2, /--density is not an option of plan\. Use --densities 254\./],
    [["nowhere.jpg"], 3, /There is no photo "nowhere\.jpg"/],
  ] as [string[], number, RegExp][])("%j, and writes nothing", async (typed, expected, words) => {
    const untouched = folder.in("untouched");
    const { status, stdout, stderr } = await spotpitchHere("plan", ...typed, "--out", untouched);
    expect(status).toBe(expected);
    expect(stdout).toBe("");
    expect(stderr).toMatch(words);
    expect(stderr.trim().split("\n")).toHaveLength(1);
    expect(namesIn(untouched)).toEqual([]);
  });
});
