import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { photographPath } from "../pipeline/photograph.js";
import { namesIn, temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

const photo = photographPath("nagasaki-boats"); // 1024 × 819
const quick = ["--width", "12", "--density", "254", "--method", "floyd-steinberg", "--bitmap-only"];

beforeAll(async () => {
  const white = (width: number, height: number) =>
    sharp({ create: { width, height, channels: 3, background: "white" } });
  await white(512, 410).png().toFile(folder.in("keep.png"));
  await white(512, 512).png().toFile(folder.in("square.png"));
  writeFileSync(folder.in("note.txt"), "not a picture");
});

async function report(name: string, ...args: readonly string[]) {
  const ran = await spotpitchHere("prepare", photo, ...quick, ...args, "--out", folder.in(name));
  expect(ran.stderr).toBe("");
  expect(ran.status).toBe(0);
  return JSON.parse(readFileSync(folder.in(name, "image.report.json"), "utf8"));
}

describe("crop, mask, oval and border on the command line", () => {
  it.concurrent("are told in the report, and in a line of the summary", async () => {
    const { job, input } = await report(
      "all",
      ...["--crop", "10%,5%,80%,60%", "--mask", folder.in("keep.png")],
      ...["--oval", "--vignette", "0.1cm", "--border", "0.3mm", "--border-gap", "0.5"],
    );
    // 10 % and 90 % of 1024, 5 % and 65 % of 819, rounded.
    expect(job.crop).toEqual({ leftPx: 102, topPx: 41, widthPx: 820, heightPx: 491 });
    expect(job).toMatchObject({ mask: "keep.png", oval: true, vignetteMm: 1, borderGapMm: 0.5 });
    expect(job.border.widthMm).toBe(0.3);
    expect(input.effectivePxPerMm).toBeCloseTo(820 / 12, 0);
    const { stdout } = await spotpitchHere(
      ...["prepare", photo, ...quick, "--oval", "--crop", "0,0,800,600", "--out", folder.in("summary")],
    );
    expect(stdout).toMatch(/^picture +800 × 600 of 1024 × 819 pixels, oval$/m);
  });

  it.concurrent("what is cut off to fill both sizes is told", async () => {
    // 1024 × 819 cut to twice as wide as high: 1024 × 512.
    const { input, warnings } = await report("cut", "--height", "6");
    expect(input.shownShare).toBeCloseTo(512 / 819, 2);
    expect(warnings.map(({ code }: { code: string }) => code)).not.toContain("much-cut-off");
    const { stdout } = await spotpitchHere(
      ...["prepare", photo, ...quick, "--height", "3", "--out", folder.in("strip")],
    );
    // 1024 × 256.
    expect(stdout).toMatch(/^picture +31 % of it, cut to fit$/m);
    expect(stdout).toMatch(/^warning +Only 31 % of the picture/m);
    const whole = await report("whole", "--height", "3", "--fit", "contain");
    expect(whole.input.shownShare).toBe(1);
  });

  it.concurrent("take pixels, spaces and a config file", async () => {
    writeFileSync(
      folder.in("picture.json"),
      JSON.stringify({ crop: "100, 50, 600, 600", focus: ["400px", 300], oval: true, "border-gap": 0 }),
    );
    const { job } = await report("config", "--config", folder.in("picture.json"), "--no-oval");
    expect(job.crop).toEqual({ leftPx: 100, topPx: 50, widthPx: 600, heightPx: 600 });
    expect(job.focus).toEqual({ xPx: 400, yPx: 300 });
    expect(job).not.toHaveProperty("oval");
  });

  it.concurrent.each<[string[], number, RegExp]>([
    [
      ["--crop", "10,20,30"],
      2,
      /--crop takes left, top, width and height in percent such as .*; got "10,20,30"/,
    ],
    [["--crop", "10%,20,30,40"], 2, /--crop takes /],
    [["--crop", "a,b,c,d"], 2, /--crop takes /],
    [["--crop", "0,0,0,40"], 2, /--crop takes .*above 0/],
    [["--crop", "50%,0%,60%,100%"], 2, /--crop reaches outside the photo, which has 1024 × 819 pixels/],
    [["--crop=-5,0,60,100"], 2, /--crop reaches outside the photo, which has 1024 × 819 pixels/],
    [["--focus", "50%"], 2, /--focus takes a point/],
    [["--focus", "2000,10"], 2, /--focus 2000, 10 lies outside the photo, which has 1024 × 819/],
    [["--crop", "0,0,100,100", "--focus", "200,10"], 2, /--focus 200, 10 lies outside the cropped part/],
    [["--vignette", "0"], 2, /--vignette takes more than 0/],
    [["--vignette", "soft"], 2, /--vignette takes a length/],
    [["--vignette", "9"], 2, /--vignette leaves nothing of the picture, which is 12 × 9\.6 mm/],
    [["--border", "-1"], 2, /--border takes more than 0/],
    [["--border", "5"], 2, /--border leaves nothing/],
    [["--border-gap", "-1"], 2, /--border-gap takes 0 to 500 mm/],
    [["--oval", "yes"], 2, /--oval is a switch/],
    [["--mask", "nowhere.png"], 3, /There is no mask "nowhere.png"/],
    [["--mask", "FOLDER"], 3, /"FOLDER" is a folder; give the mask itself/],
    [["--mask", "note.txt"], 3, /The mask "note.txt" is not a picture/],
    [["--mask", "square.png"], 3, /The mask "square.png" has another shape .* 512 × 512 .* 1024 × 819/],
  ])("refuse %j", async (args, status, message) => {
    mkdirSync(folder.in("FOLDER"), { recursive: true });
    const files = args.map((arg) =>
      ["note.txt", "square.png", "FOLDER"].includes(arg) ? folder.in(arg) : arg,
    );
    const out = folder.in(`refused-${args.join("").replace(/\W/g, "")}`);
    const ran = await spotpitchHere("prepare", photo, ...quick, ...files, "--out", out);
    expect(ran.stderr.replace(folder.in("FOLDER"), "FOLDER")).toMatch(message);
    expect(ran.stderr.trim().split("\n")).toHaveLength(1);
    expect(ran.status).toBe(status);
    expect(namesIn(out)).toEqual([]);
  });

  it("go with a plan, and back into its next command", async () => {
    const args = ["--width", "12", "--densities", "127,254", "--method", "floyd-steinberg"];
    const care = ["--crop", "10%,5%,80%,60%", "--oval", "--mask", folder.in("keep.png")];
    const { stdout, status } = await spotpitchHere(
      "plan",
      photo,
      ...args,
      ...care,
      "--out",
      folder.in("plan"),
    );
    expect(status).toBe(0);
    expect(stdout).toContain("--crop 10%,5%,80%,60%");
    expect(stdout).toContain("--oval");
    const refused = await spotpitchHere(
      "plan",
      ...args,
      "--mask",
      folder.in("keep.png"),
      "--out",
      folder.in("plan"),
    );
    expect(refused.status).toBe(2);
    expect(refused.stderr).toMatch(/--mask .* photo/);
  });
});
