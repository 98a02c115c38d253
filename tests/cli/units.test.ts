import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { afterAll, describe, expect, it } from "vitest";
import type { Comparison, Plan, Report } from "../../src/index.js";
import { photographPath } from "../pipeline/photograph.js";
import { spotpitch, temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());
const boats = photographPath("nagasaki-boats");
const quick = ["--method", "bayer-8", "--density", "10/mm"];
const text = (...names: string[]): string => readFileSync(folder.in(...names), "utf8");
const json = <T>(...names: string[]): T => JSON.parse(text(...names)) as T;

// 0.8 in at ten lines per mm are 203.2, so 203 pixels of 0.1 mm: 20.3 mm, 0.7992 in. 4 in/s are 101.6 mm/s.
describe("a size in inches and a speed in inches per second", () => {
  it("come out in inches for people, and in mm under the keys of the report", async () => {
    const typed = ["--width", "0.8in", "--speed", "4in/s", "--accel", "100in/s2", "--border", "0.04in"];
    const { status, stdout, stderr } = await spotpitchHere(
      ...["prepare", boats, ...quick, ...typed, "--spot", "100um", "--out", folder.in("made")],
    );
    expect([status, stderr]).toEqual([0, ""]);
    expect(stdout).toMatch(/^piece +0\.799 × 0\.[\d]+ in on maple, 203 × /m);
    expect(stdout).toMatch(/^burn .* at 4 in\/s and 100 in\/s²$/m);
    expect(stdout).toMatch(/^picture +with a border of 0\.0\d+.* in$/m);
    const report = json<Report>("made", "image.report.json");
    expect(report.job.widthMm).toBeCloseTo(20.3, 6);
    expect(report.job.spotAcrossMm).toBe(0.1);
    expect(report.units).toEqual({ length: "in", speed: "in/s", acceleration: "in/s²" });
    expect(report.job.assumed).toEqual([]);
    const page = text("made", "image.report.html").replaceAll("\u00a0", " ");
    expect(page).toMatch(/<h2>Life size: 0\.799 × 0\.\d+ in<\/h2>/);
    expect(page).toMatch(/<dt>Speed<\/dt><dd><strong>4 in\/s<\/strong>/);
    expect(page).toContain("A bar of 2 in");
    expect(page.replace(/<(style|script).*?<\/\1>|<[^>]*>/gs, " ")).not.toMatch(/20\.3\d* ?(×|mm)|101\.6/);
  });

  it("head the plan and the comparison", async () => {
    const { stdout } = await spotpitchHere(
      ...["plan", boats, "--width", "0.8in", "--speed", "240in/min", "--densities", "127"],
      ...["--method", "bayer-8", "--out", folder.in("planned")],
    );
    expect(stdout).toMatch(/^plan .*, 0\.803 × 0\.\d+ in of maple; 240 in\/min and an assumed 5000 mm\/s²/m);
    expect(text("planned", "plan.html")).toMatch(/0\.803 × 0\.\d+ in of maple; 240 in\/min/);
    const compared = await spotpitchHere(
      ...["compare", boats, "--width", "0.8in", "--density", "127"],
      ...["--method", "bayer-8", "--out", folder.in("compared")],
    );
    expect(compared.stdout).toMatch(/^note +Run times are at an assumed 300 mm\/s and 5000 mm\/s² \(give/m);
    expect(text("compared", "compare.html")).toMatch(/0\.803 × 0\.\d+ in, all with/);
    expect(json<Comparison>("compared", "compare.json").units.length).toBe("in");
  });
});

describe("figures of the machine that nobody gave", () => {
  it("are called assumed where the time stands, and do not stand in large type", async () => {
    const { stdout } = await spotpitchHere(
      ...["prepare", boats, ...quick, "--width", "20", "--out", folder.in("assumed")],
    );
    expect(stdout).toMatch(
      /^burn .* at an assumed 300 mm\/s and 5000 mm\/s² \(give --speed and --accel for your machine's time\)$/m,
    );
    expect(stdout).toMatch(/^density .*spot 0\.1 mm \(assumed; give your own with --spot\);/m);
    const { job } = json<Report>("assumed", "image.report.json");
    expect(job.assumed).toEqual(["spotMm", "speedMmPerS", "accelerationMmPerS2"]);
    const page = text("assumed", "image.report.html").replaceAll("\u00a0", " ");
    expect(page).not.toMatch(/<strong>300 mm/);
    expect(page).toMatch(/<dt>Run time<\/dt><dd>.*>at an assumed 300 mm\/s and 5000 mm\/s² \(give .*--speed/);
  });

  it("are not assumed if the user gave the very values of the defaults, typed or in a config file", async () => {
    writeFileSync(folder.in("shop.json"), JSON.stringify({ accel: "5000", spot: "0.1mm", minutes: 5 }));
    const { stdout, stderr } = await spotpitchHere(
      ...["prepare", boats, ...quick, "--width", "20", "--speed", "300", "--bitmap-only", "--json"],
      ...["--config", folder.in("shop.json"), "--out", folder.in("given")],
    );
    expect((JSON.parse(stdout) as Report).job.assumed).toEqual([]);
    expect(stderr).toBe(
      `spotpitch: "minutes" in ${folder.in("shop.json")} is an option of other commands: prepare ignores it.\n`,
    );
  });

  it("of a plan do not count a spot that the optics give", async () => {
    const size = ["--kind", "strip", "--material", "coated-steel", "--width", "20", "--height", "10"];
    const optics = ["--wavelength", "10.6um", "--focal-length", "2in", "--beam-diameter", "7mm"];
    const planned = async (...more: readonly string[]) =>
      JSON.parse(
        (await spotpitchHere("plan", ...size, ...more, "--json", "--out", folder.in("p"))).stdout,
      ) as Plan;
    expect((await planned()).job.assumed).toEqual(["spotMm", "speedMmPerS", "accelerationMmPerS2"]);
    expect((await planned(...optics)).job.assumed).toEqual(["speedMmPerS", "accelerationMmPerS2"]);
  });
});

describe("a batch", () => {
  it("has each piece in the units of its options, and makes it anew if only these change", async () => {
    mkdirSync(folder.in("uploads"));
    for (const name of ["a.jpg", "b.jpg"]) copyFileSync(boats, folder.in("uploads", name));
    writeFileSync(folder.in("jobs.csv"), "file,width\nb.jpg,20.32mm\n");
    const run = (width: string) => {
      writeFileSync(folder.in("shop.json"), JSON.stringify({ width }));
      return spotpitch(
        ...["batch", folder.in("uploads"), ...quick, "--config", folder.in("shop.json")],
        ...["--sheet", folder.in("jobs.csv"), "--unlisted", "prepare", "--workers", "1"],
        ...["--out", folder.in("batch")],
      );
    };
    expect((await run("0.8in")).status).toBe(0);
    const page = text("batch", "index.html");
    expect(page).toMatch(/0\.799 × 0\.\d+ in on maple".* at an assumed speed/);
    expect(page).toMatch(/20\.3 × \d+(\.\d)? mm on maple/);
    expect((await run("20.32mm")).stdout).toMatch(/; 1 unchanged since an earlier run$/m);
    expect(text("batch", "index.html")).not.toMatch(/ in on maple/);
    expect(text("batch", "a", "a.report.html")).toMatch(/Life size: 20\.3 × /);
  });
});
