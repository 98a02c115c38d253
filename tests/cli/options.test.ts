import { readFileSync, writeFileSync } from "node:fs";
import { afterAll, describe, expect, it } from "vitest";
import type { Report } from "../../src/index.js";
import { photographPath } from "../pipeline/photograph.js";
import { namesIn, temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

const cat = photographPath("locomotion-house-cat");

/** The report of a small piece of which only the bitmap is made. */
async function reportOf(...args: readonly string[]): Promise<Report> {
  const common = ["--method", "bayer-8", "--bitmap-only", "--json"];
  const out = args.includes("--config") ? [] : ["--out", folder.in("out")];
  const { status, stdout, stderr } = await spotpitchHere("prepare", cat, ...common, ...out, ...args);
  expect([status, stderr]).toEqual([0, ""]);
  return JSON.parse(stdout) as Report;
}

const material = {
  name: "net float, painted",
  response: [
    [0, 0.1],
    [0.4, 0.3],
    [1, 0.7],
  ],
  bareColor: "#20303a",
  markedColor: "#e0ded8",
  referencePitchMm: 0.1,
  source: "measured 2026-05-01",
  hazards: ["Paint fume."],
};

describe("lengths, densities and spots", () => {
  it.each([
    [["--width", "1in", "--density", "508"], { widthMm: 25.4 }],
    [["--width", "2cm", "--density", "508"], { widthMm: 20 }],
    [["--height", "5.1", "--density", "508"], { heightMm: 5.1 }],
    [["--width", "8", "--density", "254"], { linesPerInch: 254, pitchAcrossMm: 0.1, pitchAlongMm: 0.1 }],
    [["--width", "8", "--density", "0.2mm"], { linesPerInch: 127 }],
    [
      ["--width", "8", "--density", "5/mm", "--density-along", "10/mm"],
      { pitchAlongMm: 0.1, pitchAcrossMm: 0.2 },
    ],
    // Half as wide a spot along as across; the density that the spot matches is that across.
    [
      ["--width", "8", "--spot", "0.1x0.2mm"],
      { spotAlongMm: 0.1, spotAcrossMm: 0.2, matchedLinesPerInch: 127 },
    ],
    // 1/e² diameter = FWHM · √(2 / ln 2) = 1.6986 FWHM.
    [["--width", "8", "--spot", "0.1mm fwhm"], { spotAlongMm: 0.169864, spotAcrossMm: 0.169864 }],
    [["--width", "8", "--height", "8", "--density", "508"], { widthMm: 8, heightMm: 8 }],
  ])("%j", async (args, wanted) => {
    const { job } = await reportOf(...args);
    for (const [key, value] of Object.entries(wanted)) {
      expect(job[key as keyof typeof wanted], key).toBeCloseTo(value as number, 5);
    }
  });
});

describe("a material file", () => {
  it("gives its name, source, hazards and reference density", async () => {
    writeFileSync(folder.in("float.json"), JSON.stringify(material));
    const { job, coverage, cautions } = await reportOf(
      "--material",
      folder.in("float.json"),
      "--width",
      "8",
      "--density",
      "20/mm",
    );
    expect(job).toMatchObject({ material: "net float, painted", materialSource: "measured 2026-05-01" });
    expect(cautions[0]).toBe("Paint fume.");
    // Twice the density it was measured at: twice the dose at the same power, half the power for the same dose.
    expect(coverage.solidDoseFactor).toBeCloseTo(2, 9);
    expect(coverage.powerFactor).toBeCloseTo(0.5, 9);
  });
});

describe("a doubtful material file", () => {
  it("is used, and its doubts and its missing hazards are told before anything else", async () => {
    const { hazards, ...nameless } = material;
    expect(hazards).toHaveLength(1);
    const doubtful = { ...nameless, bareColor: "#e0ded8", markedColor: "#20303a" };
    writeFileSync(folder.in("doubtful.json"), JSON.stringify(doubtful));
    const { warnings, cautions } = await reportOf("--material", folder.in("doubtful.json"), "--width", "8");
    expect(warnings[0]).toMatchObject({ code: "material-doubtful" });
    expect(warnings[0].message).toMatch(/colours of net float, painted contradict its response/);
    expect(cautions[0]).toMatch(/No hazards are named for net float, painted.*find out what/);
    expect(cautions.join(" ")).toMatch(/PVC.*beryllium/);
  });
});

describe("a config file", () => {
  const config = folder.in("job.json");
  const write = (content: object) => writeFileSync(config, JSON.stringify(content));

  it("sets what the command line would, folder and material included", async () => {
    write({
      width: "1in",
      density: "10/mm",
      spot: 0.12,
      mirror: true,
      material,
      out: folder.in("configured"),
    });
    const { job } = await reportOf("--config", config);
    expect(job).toMatchObject({ spotAcrossMm: 0.12, mirror: true, material: "net float, painted" });
    expect(job.widthMm).toBeCloseTo(25.4, 9);
    expect(job.linesPerInch).toBeCloseTo(254, 9);
    expect(namesIn(folder.in("configured"))).toEqual(["image.burn.png", "image.report.json"]);
  });

  it("yields to the command line", async () => {
    write({ width: "1in", density: "10/mm", material, out: folder.in("not here") });
    const { job } = await reportOf(
      "--config",
      config,
      "--width",
      "9mm",
      "--material",
      "slate",
      "--out",
      folder.in("here"),
    );
    expect(job.widthMm).toBeCloseTo(9, 9);
    expect(job.linesPerInch).toBeCloseTo(254, 9);
    expect(job.material).toBe("slate");
    expect(namesIn(folder.in("not here"))).toEqual([]);
    expect(namesIn(folder.in("here"))).toHaveLength(2);
  });

  it("takes switches as true and false", async () => {
    write({ width: 8, "no-auto-tone": true, "one-way": false, out: folder.in("out") });
    expect((await reportOf("--config", config)).job.autoTone).toBe(false);
    write({ width: 8, "no-auto-tone": false, out: folder.in("out") });
    expect((await reportOf("--config", config)).job.autoTone).toBe(true);
    write({ width: 8, "auto-tone": false, "no-mirror": false, out: folder.in("out") });
    expect((await reportOf("--config", config)).job).toMatchObject({ autoTone: false, mirror: true });
  });

  it("has its switches taken back on the command line", async () => {
    write({ width: 8, mirror: true, "no-auto-tone": true, "no-compensate": true, out: folder.in("out") });
    const { job } = await reportOf("--config", config, "--no-mirror", "--auto-tone", "--compensate");
    expect(job).toMatchObject({ mirror: false, autoTone: true, compensated: true });
    const { job: asConfigured } = await reportOf("--config", config);
    expect(asConfigured).toMatchObject({ mirror: true, autoTone: false, compensated: false });
  });
});

describe("what a person reads", () => {
  it("names both directions where they differ", async () => {
    const args = ["--width", "8", "--density", "5/mm", "--density-along", "10/mm", "--spot", "0.1x0.2mm"];
    const { stdout } = await spotpitchHere(
      "prepare",
      cat,
      ...args,
      "--bitmap-only",
      "--method",
      "bayer-8",
      "--out",
      folder.in("out"),
    );
    expect(stdout).toMatch(
      /^density +254 \(along\) × 127 lines per inch, spot 0\.1 × 0\.2 mm; spot\/pitch ratio \(overdrive\) 1\.00/m,
    );
    expect(stdout).toMatch(
      /^detail +at least a tenth of the contrast up to 5\.0 \(along\) and 2\.5 \(across\) line pairs per mm/m,
    );
  });
});

describe("messages in full", () => {
  it("--debug adds where an error arose", async () => {
    const args = ["prepare", folder.in("no.jpg")];
    expect((await spotpitchHere(...args)).stderr).not.toMatch(/\n +at /);
    expect((await spotpitchHere("--debug", ...args)).stderr).toMatch(
      /^spotpitch: There is no photo.*\n.*\n +at /,
    );
  });

  it("the report file is what --json prints", async () => {
    const report = await reportOf("--width", "8");
    expect(JSON.parse(readFileSync(folder.in("out", "image.report.json"), "utf8"))).toEqual(report);
  });
});
