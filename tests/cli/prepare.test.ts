import { execFileSync } from "node:child_process";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Report } from "../../src/index.js";
import { photographPath } from "../pipeline/photograph.js";
import { hasTool } from "../support/tool.js";
import { namesIn, spotpitch, temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";
import { at, promisedKeys } from "./report-keys.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

const boats = photographPath("nagasaki-boats");
const quick = ["--width", "12mm", "--density", "508", "--method", "floyd-steinberg"];
const reportIn = (out: string, stem = "image"): Report =>
  JSON.parse(readFileSync(`${out}/${stem}.report.json`, "utf8")) as Report;

describe("prepare", () => {
  const out = folder.in("made", "by", "itself");
  let said = "";
  beforeAll(async () => {
    const { status, stdout, stderr } = await spotpitchHere("prepare", boats, ...quick, "--out", out);
    expect([status, stderr]).toEqual([0, ""]);
    said = stdout;
  });

  it("writes bitmap, preview and report, as numbers and as a page, and nothing else, into a folder that it makes", () => {
    expect(namesIn(out)).toEqual([
      "image.burn.png",
      "image.preview.png",
      "image.report.html",
      "image.report.json",
    ]);
  });

  it("tells a person what was made, where, and what to know before", () => {
    expect(said).toMatch(/^piece +12 × 9\.6 mm on maple, 240 × 192 pixels$/m);
    expect(said).toMatch(/^halftone +floyd-steinberg$/m);
    expect(said).toMatch(
      /^density +508 lines per inch, spot 0\.1 mm \(assumed; give your own with --spot\); spot\/pitch ratio \(overdrive\) 2\.00; spots just touch \(matched\) at 254$/m,
    );
    expect(said).toMatch(
      /^power +not known yet: "spotpitch power-test --density 508" .* give it as --power$/m,
    );
    expect(said).toMatch(
      /^tones +a detail of 0\.25 mm shows \d+ \(holds \d+ if the dose varies\), one of 1 mm \d+/m,
    );
    expect(said).toMatch(/^visual error .*1 = just noticeable$/m);
    expect(said).toMatch(/^expected +[\d.]+ L\* .*: unevenness [\d.]+ \(.*\), tone shift [\d.]+ \(/m);
    expect(said).toMatch(/^detail +.*line pairs per mm.* is the limit: .* would show more$/m);
    expect(said).toMatch(
      /^burn +[\d.]+ % of the pixels, about \d+ s at an assumed 300 mm\/s and 5000 mm\/s² \(give --speed and --accel for your machine's time\)$/m,
    );
    for (const name of namesIn(out)) expect(said).toContain(`${out}/${name}`);
    expect(said).toMatch(/^Cautions:\n( {2}- .*\n)+$/m);
    // The material's own cautions and one line; the rest is in the report.
    expect(said).toMatch(/Wood smoke/);
    expect(said).not.toMatch(/beryllium/);
    expect(said.trimEnd().split("\n").pop()).toMatch(/All cautions are in the report\.$/);
    expect(reportIn(out).cautions.join(" ")).toMatch(/Wood smoke.*beryllium/);
    // Escape codes are for terminals only.
    expect(said).not.toContain("\u001b");
  });

  it("reports every promised key, with no number missing", () => {
    const report = reportIn(out);
    for (const path of promisedKeys) expect(at(report, path), path).toBeDefined();
    // JSON has no NaN or Infinity: they would have become null.
    expect(readFileSync(`${out}/image.report.json`, "utf8")).not.toMatch(/\bnull\b/);
    expect(report.tool.name).toBe("spotpitch");
    expect(report.input).toMatchObject({ file: "image.jpg", widthPx: 1024, heightPx: 819 });
    expect(report.tonalResolution?.map(({ detailMm }) => detailMm)).toEqual([0.15, 0.25, 0.5, 1]);
  });

  it("says that auto picked the method, and by what factor to change the power from the reference density", async () => {
    const args = ["--width", "8mm", "--material", "coated-steel", "--spot", "0.1mm", "--density", "508"];
    const { stdout } = await spotpitchHere("prepare", boats, ...args, "--out", folder.in("auto"));
    expect(stdout).toMatch(
      /^halftone +[a-z-]+ \(chosen by auto: expected error [\d.]+ L\*; [a-z-]+ [\d.]+, .*\)$/m,
    );
    // Measured at 0.1 mm pitch; at 0.05 mm each place is passed twice.
    expect(stdout).toMatch(
      /^power +0\.50 × the power that gives full tone at 254 lines per inch, or that power and 2\.00 × its speed\./m,
    );
  });

  it("says what a source that answers late costs along the lines, and from which speed", async () => {
    const args = [
      "--firing-lag",
      "100",
      "--speed",
      "500",
      "--spot",
      "0.115mm",
      "--density",
      "442",
      "--bitmap-only",
    ];
    const { stdout } = await spotpitchHere("prepare", boats, ...quick, ...args, "--out", folder.in("lag"));
    // √3/(2π·0.05 mm), √(2 ln 2)/(π·0.0575 mm), and half of 442 pixels per inch; 500 mm/s × 5.5/6.5.
    expect(stdout).toMatch(
      /^along a line +firing leaves half the contrast at 5\.5 line pairs per mm, the spot at 6\.5, the pitch carries 8\.7; above 422 mm\/s firing is the limit$/m,
    );
  });

  it("rounds the report's figures to six significant digits and keeps counts whole", () => {
    const numbers = readFileSync(`${out}/image.report.json`, "utf8").match(/(?<=: )-?[\d.e+-]+/g) ?? [];
    expect(numbers.length).toBeGreaterThan(40);
    for (const number of numbers.filter((text) => /[.e]/.test(text))) {
      expect(number.replace(/e.*|^-?0?\.?0*|\./g, "").length, number).toBeLessThanOrEqual(6);
    }
    expect(reportIn(out).job.columns).toBe(240);
  });

  it("writes the same bytes when run again, built and in another process", async () => {
    const again = folder.in("again");
    await spotpitch("prepare", boats, ...quick, "--out", again);
    for (const name of namesIn(out)) {
      expect(readFileSync(`${again}/${name}`).equals(readFileSync(`${out}/${name}`)), name).toBe(true);
    }
  });

  it("--json prints the report that it writes, and nothing else", async () => {
    const json = folder.in("json");
    const { status, stdout, stderr } = await spotpitchHere(
      "prepare",
      boats,
      ...quick,
      "--json",
      "--out",
      json,
    );
    expect([status, stderr]).toEqual([0, ""]);
    expect(JSON.parse(stdout)).toEqual(reportIn(json));
    expect(namesIn(json)).toHaveLength(4);
  });

  it("--bitmap-only leaves preview, page and prediction out", async () => {
    const bare = folder.in("bare");
    const { status } = await spotpitchHere("prepare", boats, ...quick, "--bitmap-only", "--out", bare);
    expect(status).toBe(0);
    expect(namesIn(bare)).toEqual(["image.burn.png", "image.report.json"]);
    expect(reportIn(bare).prediction).toBeUndefined();
    expect(readFileSync(`${bare}/image.burn.png`).equals(readFileSync(`${out}/image.burn.png`))).toBe(true);
  });
});

describe("all files or none", () => {
  it("keeps an earlier result whole when the new one cannot be put in its place", async () => {
    const out = folder.in("blocked");
    mkdirSync(`${out}/image.report.json`, { recursive: true });
    writeFileSync(`${out}/image.burn.png`, "earlier");
    const { status, stdout, stderr } = await spotpitchHere(
      "prepare",
      boats,
      ...quick,
      "--bitmap-only",
      "--out",
      out,
    );
    expect([status, stdout]).toEqual([1, ""]);
    expect(stderr).toMatch(/image\.report\.json": a folder has that name\. Nothing was written/);
    expect(namesIn(out)).toEqual(["image.burn.png", "image.report.json"]);
    expect(readFileSync(`${out}/image.burn.png`, "utf8")).toBe("earlier");
  });
});

describe("bitmap files, as other programs read them", () => {
  const out = folder.in("formats");
  const job = [...quick, "--density", "254", "--density-along", "508", "--bitmap-only", "--out", out];
  beforeAll(async () => {
    for (const format of ["png", "tiff", "bmp"]) {
      expect((await spotpitchHere("prepare", boats, ...job, "--format", format)).status).toBe(0);
    }
  });

  // 12 mm at 20 pixels per mm along; 12 · 819/1024 = 9.598 mm at 10 lines per mm across.
  it.skipIf(!hasTool("identify", ["-version"])).each(["png", "tiff", "bmp"])(
    "%s: ImageMagick reads size, one bit, both densities",
    (format) => {
      const asked = ["-units", "PixelsPerCentimeter", "-format", "%w %h %x %y %[type]"];
      const facts = execFileSync("identify", [...asked, `${out}/image.burn.${format}`], { encoding: "utf8" });
      const [columns, rows, along, across] = facts.split(/\D+/).map(Number);
      expect([columns, rows, along, across]).toEqual([240, 96, 200, 100]);
      expect(facts).toMatch(/ Bilevel$/);
    },
  );

  it.skipIf(!hasTool("pngcheck", ["-h"]))("png: pngcheck finds no fault", () => {
    const said = execFileSync("pngcheck", ["-v", `${out}/image.burn.png`], { encoding: "utf8" });
    expect(said).toMatch(/240 x 96 image, 1-bit grayscale, non-interlaced/);
    expect(said).toMatch(/20000x10000 pixels\/meter/);
    expect(said).toMatch(/No errors detected/);
  });

  it.skipIf(!hasTool("tiffinfo", ["-h"]))("tiff: libtiff reads both densities", () => {
    const said = execFileSync("tiffinfo", [`${out}/image.burn.tiff`], { encoding: "utf8" });
    expect(said).toMatch(/Image Width: 240 Image Length: 96/);
    expect(said).toMatch(/Resolution: 200, 100 pixels\/cm/);
    expect(said).toMatch(/Bits\/Sample: 1\b/);
    expect(said).toMatch(/min-is-black/);
  });

  it.skipIf(!hasTool("convert", ["-version"]))("hold the same picture", () => {
    const [png, tiff, bmp] = ["png", "tiff", "bmp"].map((format) =>
      execFileSync("convert", [`${out}/image.burn.${format}`, "-depth", "8", "gray:-"]),
    );
    expect(png).toHaveLength(240 * 96);
    expect(tiff.equals(png)).toBe(true);
    expect(bmp.equals(png)).toBe(true);
  });
});

describe("--kind solid", () => {
  const logo = fileURLToPath(new URL("../../sample-images/logo.svg", import.meta.url));

  it("tells how far edges were moved, and what is too thin", async () => {
    const out = folder.in("solid");
    const args = ["--kind", "solid", "--width", "12mm", "--spot", "0.115mm", "--density", "508"];
    const { status, stdout, stderr } = await spotpitchHere("prepare", logo, ...args, "--out", out);
    expect([status, stderr]).toEqual([0, ""]);
    expect(stdout).toMatch(
      /^edges +moved inwards by 0\.0\d\d mm.*straight edges are right within 0\.00\d mm on average and look smooth from \d+ cm on$/m,
    );
    expect(stdout).toMatch(/^thinnest +strokes 0\.\d{3} mm, gaps 0\.\d{3} mm; /m);
    expect(stdout).not.toMatch(/^(halftone|tones) /m);
    expect(stdout).toMatch(/^warning +\d+\.\d mm of strokes are thinner/m);
    expect(namesIn(out)).toEqual([
      "logo.burn.png",
      "logo.preview.png",
      "logo.report.html",
      "logo.report.json",
    ]);
    const report = reportIn(out, "logo");
    expect(report.job).toMatchObject({ kind: "solid", method: "none" });
    expect(readFileSync(`${out}/logo.report.json`, "utf8")).not.toMatch(/\bnull\b/);
  });
});
