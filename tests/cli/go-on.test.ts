import { spawnSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Plan, Report } from "../../src/index.js";
import { photographPath } from "../pipeline/photograph.js";
import { temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";

const folder = temporaryFolder();
/** A name that a shell would take apart. */
const boats = folder.in("Ada's boats (2).png");
const logo = folder.in("logo.svg");
const curve = folder.in("float paint.json");

beforeAll(async () => {
  await sharp(photographPath("nagasaki-boats")).resize(160).png().toFile(boats);
  const anchor = '<path d="M9 2h2v3h4v2h-4v9h-2V7H5V5h4z"/>';
  writeFileSync(
    logo,
    `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20">${anchor}</svg>`,
  );
  const response = [
    [0, 0.1],
    [0.4, 0.3],
    [1, 0.7],
  ];
  const colours = { bareColor: "#20303a", markedColor: "#e0ded8" };
  writeFileSync(curve, JSON.stringify({ name: "float paint", response, ...colours, source: "made up" }));
});
afterAll(() => folder.remove());

/** What a page's text says, without the marks of HTML. */
const plain = (html: string): string =>
  html
    .replace(/<[^>]*>/g, "")
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll(/&#(39|x27);|&apos;/g, "'")
    .replaceAll("&amp;", "&");

/** The words after "npx spotpitch", as a shell takes the command apart. */
function wordsOf(command: string): string[] {
  const print = command.replace(/^npx spotpitch/, "printf '%s\\0'");
  return spawnSync("sh", ["-c", print], { encoding: "utf8" }).stdout.split("\0").slice(0, -1);
}

/** Make a plan, read the next command off its page, and run that as a user would who pastes it into a shell. */
async function planAndGoOn(...args: readonly string[]) {
  const { stdout, stderr, status } = await spotpitchHere("plan", ...args, "--json", "--out", folder.path);
  expect([stderr, status]).toEqual(["", 0]);
  const page = readFileSync(folder.in("plan.html"), "utf8");
  const next = plain(/Next command: <code>(.*?)<\/code>/s.exec(page)?.[1] ?? "no command");
  expect(next).toMatch(/^npx spotpitch prepare /);
  const ran = await spotpitchHere(
    ...wordsOf(next),
    "--json",
    "--bitmap-only",
    "--out",
    folder.in("prepared"),
  );
  // A config file may hold options of the plan alone.
  expect(ran.stderr).toMatch(/^(spotpitch: .* of other commands: prepare ignores (it|them)\.\n)?$/);
  expect([next, ran.status]).toEqual([next, 0]);
  return { plan: JSON.parse(stdout) as Plan, next, job: (JSON.parse(ran.stdout) as Report).job };
}

/** Density, spot, material and size are those of the plan: to a tenth of a line, three digits, and half a pixel each way. */
function expectAsPlanned({ job, plan }: { job: Report["job"]; plan: Plan }): void {
  const { row, linesPerInch } = plan.recommended;
  const { spotAlongMm, spotAcrossMm } = plan.lenses[plan.rows[row].lens];
  expect(Math.abs(job.linesPerInch - linesPerInch)).toBeLessThan(0.051);
  expect(job.spotAlongMm / spotAlongMm).toBeCloseTo(1, 2);
  expect(job.spotAcrossMm / spotAcrossMm).toBeCloseTo(1, 2);
  expect(job.material).toBe(plan.job.material);
  expect(Math.abs(job.widthMm - plan.job.widthMm)).toBeLessThanOrEqual(job.pitchAlongMm);
  expect(Math.abs(job.heightMm - plan.job.heightMm)).toBeLessThanOrEqual(job.pitchAcrossMm);
  expect(job.doseSpread).toBe(plan.job.doseSpread);
}

describe("the next command of a plan, taken apart by a shell, prepares what was planned", () => {
  it("a photo, with every kind of option that both commands have", async () => {
    const size = ["--width", "14", "--height", "12mm", "--fit", "contain"];
    const laser = ["--spot", "0.07x0.11mm", "--densities", "170,231.4", "--dose-spread", "12%"];
    const tone = ["--no-auto-tone", "--mirror", "--tone-map", "luminance", "--method", "stucki"];
    const more = ["--material", curve, "--minutes", "9", "--scan", "raster", "--seed", "5", "--levels", "4"];
    const made = await planAndGoOn(boats, ...size, ...laser, ...tone, ...more);
    expectAsPlanned(made);
    expect(made.job).toMatchObject({
      kind: "photo",
      material: "float paint",
      method: "stucki",
      mirror: true,
      autoTone: false,
      toneMap: "luminance",
      scan: "raster",
      seed: 5,
      levels: 4,
    });
  });

  it("the same command stands on the terminal", async () => {
    const args = [boats, "--width", "9", "--densities", "200", "--negative"];
    const { next, job } = await planAndGoOn(...args);
    expect(job.negative).toBe(true);
    const { stdout } = await spotpitchHere("plan", ...args, "--out", folder.path);
    expect(stdout).toMatch(/^next +npx /m);
    expect(/^next +(npx .*)$/m.exec(stdout)?.[1]).toBe(next);
  });

  it("a method that was left to the plan", async () => {
    const made = await planAndGoOn(boats, "--width", "9", "--densities", "254", "--material", "slate");
    expectAsPlanned(made);
    expect(made.job.method).toBe(made.plan.rows[made.plan.recommended.row].method);
  });

  it.each([
    ["a coating to take off", ["--kind", "strip", "--material", "coated-steel", "--margin", "6%"]],
    ["a shade to fill", ["--kind", "shade", "--material", "cherry", "--darkness", "60%"]],
  ])("%s, by a lens from its optics", async (_, work) => {
    const optics = ["--wavelength", "10.6um", "--beam-diameter", "7mm", "--focal-length", "1.5in,3in"];
    const made = await planAndGoOn(logo, ...work, "--width", "20", ...optics);
    expectAsPlanned(made);
    expect(made.job.kind).toBe("solid");
  });

  it("a config file that says what bears on the plan alone", async () => {
    const config = folder.in("the shop.json");
    const machine = {
      spot: "0.15mm",
      densities: [127],
      minutes: 10,
      against: 500,
      speed: 250,
      method: "ostromoukhov",
    };
    writeFileSync(config, JSON.stringify({ ...machine, material: "slate", width: "11mm", mirror: true }));
    const made = await planAndGoOn(boats, "--config", config);
    expectAsPlanned(made);
    expect(made.job).toMatchObject({ material: "slate", mirror: true });
    expect(made.job.widthMm).toBeCloseTo(11, 0);
  });

  it("a drawing, which is engraved solid whatever its tones were planned for", async () => {
    const made = await planAndGoOn(logo, "--width", "9", "--densities", "254");
    expect(made.job.kind).toBe("solid");
  });

  it("a drawing that is to be engraved as a photo", async () => {
    const made = await planAndGoOn(logo, "--kind", "photo", "--width", "9", "--densities", "254");
    expectAsPlanned(made);
    expect(made.job.kind).toBe("photo");
  });
});
