import { existsSync, writeFileSync } from "node:fs";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Report } from "../../src/index.js";
import { namesIn, temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";

const folder = temporaryFolder();
const photo = folder.in("net.png");
const out = folder.in("out");

beforeAll(async () => {
  const noise = { type: "gaussian", mean: 128, sigma: 30 } as const;
  const png = sharp({ create: { width: 300, height: 200, channels: 3, background: "grey", noise } }).png();
  writeFileSync(photo, await png.toBuffer());
});
afterAll(() => folder.remove());

async function reportOf(...args: readonly string[]): Promise<Report> {
  const common = ["--method", "bayer-8", "--bitmap-only", "--json", "--density", "254", "--out", out];
  const { status, stdout, stderr } = await spotpitchHere("prepare", photo, ...common, ...args);
  expect([status, stderr]).toEqual([0, ""]);
  return JSON.parse(stdout) as Report;
}

describe("once round a cylinder", () => {
  it("is π times the diameter wide, in columns that close, and keeps the photo's shape", async () => {
    const { job } = await reportOf("--around", "30mm");
    expect(job.widthMm).toBeCloseTo(Math.PI * 30, 3);
    expect(job.columns).toBe(944); // 942.5 asked, in sixteens
    expect(job.pitchAlongMm).toBeCloseTo((Math.PI * 30) / 944, 6);
    expect(job.heightMm).toBeCloseTo((Math.PI * 30 * 2) / 3, 0);
    expect(job.around).toMatchObject({ topDiameterMm: 30, bottomDiameterMm: 30 });
    expect(job.around?.circumferenceMm).toBeCloseTo(Math.PI * 30, 3);
    expect(job.around?.cone).toBeUndefined();
  });

  it.each<[string[], Record<string, unknown>]>([
    [["--height", "20"], { rows: 200, heightMm: 20 }],
    [["--height", "20", "--fit", "contain"], { rows: 200 }],
    [["--height", "20", "--fit", "stretch"], { rows: 200 }],
    [["--mirror"], { mirror: true, columns: 944 }],
    [["--density-along", "508"], { columns: 1888 }],
  ])("with %j", async (args, wanted) => {
    const { job } = await reportOf("--around", "30", ...args);
    expect(job).toMatchObject(wanted);
    expect(job.widthMm).toBeCloseTo(Math.PI * 30, 3);
  });

  it("writes its width into the bitmap file, to the file's whole pixels per metre", async () => {
    await reportOf("--around", "30");
    const { density = 0, width = 0 } = await sharp(folder.in("out/net.burn.png")).metadata();
    expect((width / density) * 25.4).toBeCloseTo(Math.PI * 30, 0);
  });

  it("tells a person about the turn", async () => {
    const args = ["--method", "bayer-8", "--bitmap-only", "--out", out];
    const { stdout } = await spotpitchHere("prepare", photo, "--around", "30", ...args);
    expect(stdout).toMatch(
      /^around +30 mm, once round 94\.2 mm; the columns close at a pitch of 0\.0\d+ mm \(in the file: nothing to set\)$/m,
    );
    const cone = await spotpitchHere("prepare", photo, "--around", "30..26", "--cone", "level", ...args);
    expect(cone.stdout).toMatch(/^around +cone of 30 to 26 mm, 88 mm round at half its height/m);
    expect(cone.stdout).toMatch(/unrolled: a sector of [\d.]+°, radii .* laid level$/m);
    expect(cone.stdout).toMatch(/over its rows: pitch along .* dose 0\.93 to 1\.08$/m);
  });

  it("shows a preview of a cone and of a cylinder", async () => {
    for (const around of ["12", "12..9"]) {
      const shown = folder.in(`shown ${around}`);
      const args = ["--around", around, "--height", "10", "--method", "bayer-8", "--out", shown];
      expect((await spotpitchHere("prepare", photo, ...args)).status).toBe(0);
      expect(namesIn(shown)).toContain("net.preview.png");
    }
  });
});

describe("on a part of a round piece", () => {
  const args = ["--method", "bayer-8", "--bitmap-only", "--density", "254", "--width", "50mm", "--out", out];

  it("says where to start on a cylinder", async () => {
    const { stdout } = await spotpitchHere(
      "prepare",
      photo,
      "--around",
      "73mm",
      "--place",
      "20mm,90deg",
      ...args,
    );
    expect(stdout).toMatch(
      /^around +73 mm, round 229\.3 mm; the columns have a pitch of 0\.1 mm \(in the file: nothing to set\)$/m,
    );
    expect(stdout).toMatch(
      /^place +Rotate to 50\.76° \(32\.33 mm\) from your mark and start 20 mm below the rim/m,
    );
    expect(stdout).toMatch(/Set the rotary attachment to a diameter of 73 mm\.$/m);
  });

  it("says on a cone what the bitmap's bend means", async () => {
    const cone = ["--around", "85..62mm", "--wall", "140mm", "--place", "20mm,90deg"];
    const { stdout } = await spotpitchHere("prepare", photo, ...cone, ...args);
    // The sides lie 497.39 and 464.06 mm from the apex: 2 atan(25 / 464.06) · 481.06 mm and √(497.39² + 25²) − 464.06 mm.
    expect(stdout).toMatch(/^piece +50 × 33\.3 mm on maple, bent bitmap 51\.8 × 34 mm, 518 × 340 pixels$/m);
    expect(stdout).toMatch(/start 19\.\d+ mm below the rim.*its top 20 mm below the rim\.$/m);
    // 50 mm of a circle about 480 mm from the apex: 50² / (8 · 480) = 0.65 mm.
    expect(stdout).toMatch(/The bitmap is bent because.*In a straight bitmap level lines bow by 0\.65 mm/);
    const open = await spotpitchHere("prepare", photo, "--around", "85..80mm", "--cone", "level", ...args);
    expect(open.stdout).toMatch(/start at the height that you choose/);
    expect(open.stdout).toMatch(/The bitmap is straight, but.*run parallel to the rim\.$/m);
    expect(open.stdout).toMatch(/The length of the wall is not given/);
  });

  it("warns of a picture across the mark, unless its middle lies there", async () => {
    const codes = async (place: string) =>
      (await reportOf("--around", "73", "--width", "50", "--place", place)).warnings.map(({ code }) => code);
    expect(await codes("20mm,330deg")).toContain("picture-over-mark");
    expect(await codes("20mm,180deg")).not.toContain("picture-over-mark");
    expect(await codes("20mm")).not.toContain("picture-over-mark");
  });
});

describe("a wrong --around is refused in one line", () => {
  const none = folder.in("none");
  it.concurrent.each<[string[], RegExp]>([
    [["--around", "0"], /--around takes a diameter such as 60mm.*above 0; got "0"/],
    [["--around", "-5"], /above 0; got "-5"/],
    [["--around", "50.."], /or a cone's at top and bottom such as 80\.\.60mm; got "50\.\."/],
    [["--around", "..50"], /got "\.\.50"/],
    [["--around", "1..2..3"], /got "1\.\.2\.\.3"/],
    [["--around", "abc"], /got "abc"/],
    [["--around", "2000"], /--around takes a diameter of 1 to 950 mm.*got "2000"/],
    [["--around", "0.1..60"], /1 to 950 mm.*got "0\.1\.\.60"/],
    [
      ["--around", "10", "--width", "40", "--density", "254"],
      /40 mm wide, but.*31\.42 mm all the way round \(--around\).*smaller --width/,
    ],
    [["--around", "60", "--wall", "40"], /--wall is for a picture on a part.*give --width too/],
    [["--place", "20mm,90deg"], /--place is for a round piece: give its diameter too, --around/],
    [
      ["--around", "60", "--place", "20mm,90deg,3"],
      /--place takes a distance from the rim.*got "20mm,90deg,3"/,
    ],
    [
      ["--around", "60..50", "--width", "40", "--place", "20mm"],
      /--place measures from the rim.*Give --wall/,
    ],
    [
      ["--around", "60", "--width", "40", "--wall", "50", "--place", "48", "--density", "254"],
      /from 48 to 52 mm below the rim.*ends at 50 mm/,
    ],
    [["--around", "80..20", "--height", "25"], /--around 80\.\.20 with a height of 25 mm is no cone.*30 mm/],
    [["--around", "300..20", "--cone", "flat"], /is no cone/],
    [["--around", "1", "--density", "20"], /--around is too small.*0\.196 mm apart instead of 1\.270/],
    [["--around", "60", "--oval"], /--oval is for a picture with sides.*give --width too/],
    [["--around", "60", "--cone", "round"], /--cone takes one of flat, level; got "round"/],
  ])("%j", async (args, words) => {
    // Twice as wide as the photo is high for its width, so that a steep cone finds no slope of its own.
    const wide = folder.in("wide.png");
    if (!existsSync(wide)) {
      writeFileSync(
        wide,
        await sharp({ create: { width: 900, height: 90, channels: 3, background: "grey" } })
          .png()
          .toBuffer(),
      );
    }
    const { status, stdout, stderr } = await spotpitchHere("prepare", wide, "--out", none, ...args);
    expect(stderr).toMatch(words);
    expect(stderr).toMatch(/^spotpitch: \S.*\.\n$/);
    expect([status, stdout]).toEqual([2, ""]);
    expect(existsSync(none)).toBe(false);
  });

  it("takes diameters from a config file too", async () => {
    const config = folder.in("job.json");
    writeFileSync(config, JSON.stringify({ around: "3..2.5cm", cone: "level", height: 20 }));
    const { job } = await reportOf("--config", config);
    expect(job.around).toMatchObject({
      topDiameterMm: 30,
      bottomDiameterMm: 25,
      cone: { layout: "level", slantHeightMm: 20 },
    });
  });
});

it("plan takes --around with and without a photo", { timeout: 60_000 }, async () => {
  const args = ["--densities", "127", "--method", "bayer-8", "--json", "--height", "10"];
  for (const source of [[photo], []]) {
    const { status, stdout } = await spotpitchHere(
      "plan",
      ...source,
      "--around",
      "12",
      ...args,
      "--out",
      out,
    );
    expect(status).toBe(0);
    const { job, rows } = JSON.parse(stdout) as {
      job: { widthMm: number };
      rows: { columns: number }[];
    };
    expect(rows[0].columns).toBe(192); // 188.5 asked
    expect(job.widthMm).toBeCloseTo(Math.PI * 12, 1);
  }
});
