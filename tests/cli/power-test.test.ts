import { readFileSync, writeFileSync } from "node:fs";
import sharp from "sharp";
import { afterAll, describe, expect, it } from "vitest";
import type { Plan, PowerTest, Report } from "../../src/index.js";
import { photographPath } from "../pipeline/photograph.js";
import { namesIn, temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";

const boats = photographPath("nagasaki-boats");
const folder = temporaryFolder();
afterAll(() => folder.remove());

describe("power-test", () => {
  it("writes a patch and a page, and prints steps, outcome and cautions", async () => {
    const out = folder.in("tested");
    const { status, stdout, stderr } = await spotpitchHere(
      ...["power-test", "--density", "254", "--spot", "0.1mm", "--speed", "200", "--out", out],
    );
    expect([status, stderr]).toEqual([0, ""]);
    expect(namesIn(out)).toEqual(["power-test.burn.png", "power-test.html"]);
    expect(stdout.match(/^step \d/gm)).toHaveLength(6);
    expect(stdout).toContain("--power 40%@254@200mm/s");
    expect(stdout).toMatch(/^Cautions:\n( {2}- .*\n)+$/m);
    const { width, density } = await sharp(`${out}/power-test.burn.png`).metadata();
    expect([width, density]).toEqual([120, 254]);
  });

  it("takes the config file of a job, and leaves the size of the piece to it", async () => {
    const config = folder.in("shop.json");
    writeFileSync(
      config,
      JSON.stringify({ width: "80mm", material: "slate", density: 300, method: "bayer-8" }),
    );
    const out = folder.in("configured");
    const { stdout, stderr } = await spotpitchHere(
      "power-test",
      "--config",
      config,
      "--format",
      "bmp",
      "--json",
      "--out",
      out,
    );
    expect(stderr).toMatch(/"width" and "method" in .*shop\.json are options of other commands/);
    const { job } = JSON.parse(stdout) as PowerTest;
    expect(job).toMatchObject({ material: "slate", marksGrow: "lighter", isSpeedGiven: false });
    expect(job.widthMm).toBeCloseTo(12, 1);
    expect(namesIn(out)).toEqual(["power-test.burn.bmp", "power-test.html"]);
  });

  it("speaks in the units of the user, on its page too", async () => {
    const out = folder.in("inches");
    const { stdout } = await spotpitchHere(
      ...["power-test", "--speed", "12in/s", "--patch", "0.5in", "--density", "200", "--out", out],
    );
    // 13 mm and 2 mm between two patches are 15 mm, 0.591 in.
    expect(stdout).toMatch(/with its own size, 0\.5 × 0\.5 in, and set 200 lines per inch and 12 in\/s/);
    expect(stdout).toContain("Move it by 0.591 in");
    expect(stdout).toContain("--power 40%@200@12in/s");
    const page = readFileSync(folder.in("inches", "power-test.html"), "utf8").replaceAll("\u00a0", " ");
    expect(page).toContain("<strong>12 in/s</strong>");
    expect(page).toMatch(/at 200 lines per inch and 12 in\/s<\/strong>/);
    expect(page + stdout).not.toContain("304.8");
  });

  it.each([
    ["an option of other commands", ["--width", "80mm"], /--width is not an option of power-test/],
    ["a photo", ["boat.jpg"], /power-test takes no photo/],
    ["too large a patch", ["--patch", "80mm"], /--patch takes 3 to 50 mm/],
  ])("refuses %s, and writes nothing", async (_, words, message) => {
    const out = folder.in("refused");
    const { status, stderr } = await spotpitchHere("power-test", ...words, "--out", out);
    expect(status).toBe(2);
    expect(stderr).toMatch(message);
    expect(namesIn(out)).toEqual([]);
  });
});

describe("what it finds", () => {
  it("makes prepare speak in percent: in its summary, its report and on its page", async () => {
    const out = folder.in("prepared");
    const { stdout, stderr } = await spotpitchHere(
      ...["prepare", boats, "--width", "12mm", "--density", "200", "--speed", "150", "--passes", "2"],
      ...["--power", "40%@254@300mm/s", "--method", "bayer-8", "--out", out],
    );
    expect(stderr).toBe("");
    // 40 % · (254 / 200) · (150 / 300) / 2 passes = 12.7 %.
    expect(stdout).toMatch(/^power +13 % at 150 mm\/s in each of 2 passes/m);
    const name = namesIn(out).find((each) => each.endsWith(".report.json")) ?? "";
    const report = JSON.parse(readFileSync(`${out}/${name}`, "utf8")) as Report;
    expect(report.power.percent).toBeCloseTo(12.7, 4);
    expect(report.job.passes).toBe(2);
    const page = readFileSync(`${out}/${name.replace(".json", ".html")}`, "utf8");
    expect(page).toMatch(/<dt>Power<\/dt><dd><strong>13\s%, 2 passes<\/strong>/);
    expect(page).toMatch(/2 passes, each of \d+ lines/);
  });

  it("is kept in the next command of a plan; without it the plan says how to find it", async () => {
    const plan = ["plan", "--kind", "shade", "--width", "20", "--height", "20", "--densities", "254,300"];
    const given = await spotpitchHere(...plan, "--power", "40%@254", "--out", folder.in("known"));
    expect(given.stdout).toMatch(/^next .*--power 40%@254 /m);
    expect(given.stdout).not.toMatch(/^find power/m);
    const { stdout } = await spotpitchHere(...plan, "--accel", "4000", "--out", folder.in("unknown"));
    const [, found] = /^find power +npx spotpitch (power-test .*)$/m.exec(stdout) ?? [];
    expect(found).toMatch(/^power-test --out \S+ --accel 4000 --density 254$/);
    const page = readFileSync(folder.in("unknown", "plan.html"), "utf8");
    expect(page.replace(/<[^>]*>/g, "")).toContain(`Find the power: npx spotpitch ${found}`);
    const tested = await spotpitchHere(...found.split(" "), "--out", folder.in("found"));
    expect(tested.status).toBe(0);
    const json = await spotpitchHere(...plan, "--power", "40%@254", "--json", "--out", folder.in("json"));
    expect((JSON.parse(json.stdout) as Plan).power.percent).toBeGreaterThan(1);
  });

  it("reports the spot on the work and the one at the focus", async () => {
    const { stdout } = await spotpitchHere(
      ...["prepare", boats, "--width", "12mm", "--spot", "0.1mm", "--defocus", "1mm"],
      ...["--wavelength", "10.6um", "--method", "bayer-8", "--json", "--out", folder.in("wide")],
    );
    const { job } = JSON.parse(stdout) as Report;
    // ISO 11146-1: d0·√(1 + (z/z_R)²), z_R = π d0²/(4 λ) = 0.741 mm. The report has six digits.
    expect(job.spotAcrossMm).toBeCloseTo(0.1 * Math.hypot(1, (4 * 0.0106) / (Math.PI * 0.1 ** 2)), 6);
    expect(job.outOfFocus).toEqual({ defocusMm: 1, focusSpotAlongMm: 0.1, focusSpotAcrossMm: 0.1 });
  });
});
