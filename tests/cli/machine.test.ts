import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Report } from "../../src/index.js";
import { photographPath } from "../pipeline/photograph.js";
import { temporaryFolder } from "./command.js";
import { spotpitchHereWith } from "./here.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());
const boats = photographPath("nagasaki-boats");
const mine = folder.in("mine.json");
const figures = {
  spotMm: { alongMm: 0.1, acrossMm: 0.14 },
  spread: { common: 0.02, local: 0.01 },
  speedMmPerS: 200,
  lineShiftMm: 0.04,
  linesPerInchOffered: [120, 240],
};

/** The settings of a user of his own. */
const spotpitch = (...args: readonly string[]) =>
  spotpitchHereWith({ XDG_CONFIG_HOME: folder.in("settings") }, ...args);
const quick = ["--width", "6", "--method", "bayer-8"];

async function jobOf(...args: readonly string[]) {
  const { status, stdout, stderr } = await spotpitch(
    "prepare",
    boats,
    ...quick,
    "--json",
    "--out",
    folder.in("made"),
    ...args,
  );
  expect([status, stderr]).toEqual([0, ""]);
  return (JSON.parse(stdout) as Report).job;
}

beforeAll(() => writeFileSync(mine, JSON.stringify({ name: "ours", ...figures })));

describe("a machine file", () => {
  it("gives what is not typed, and the report names where each figure came from", async () => {
    const job = await jobOf("--machine", mine, "--speed", "100", "--spread", "line=3%");
    expect(job).toMatchObject({ spotAlongMm: 0.1, spotAcrossMm: 0.14, assumed: ["accelerationMmPerS2"] });
    expect(job.linesPerInch).toBeCloseTo(240, 9);
    expect(job.spread).toMatchObject({ common: 0.02, local: 0.01, line: 0.03 });
    expect(job.givenBy).toEqual({
      spotMm: "the machine file mine.json",
      spread: "the command line and the machine file mine.json",
      lineShiftMm: "the machine file mine.json",
      speedMmPerS: "the command line",
      linesPerInchOffered: "the machine file mine.json",
    });
    const { stdout } = await spotpitch(
      "prepare",
      boats,
      ...quick,
      "--machine",
      mine,
      "--out",
      folder.in("made"),
    );
    expect(stdout).toMatch(
      /^machine +spot, spread, line shift, speed and densities offered from the machine file mine\.json$/m,
    );
  });

  it("yields to what replaces its figures: lines of one direction, and a spot from the optics", async () => {
    const { givenBy } = await jobOf("--machine", mine, "--one-way");
    expect(givenBy).toHaveProperty("oneWay", "the command line");
    expect(givenBy).not.toHaveProperty("lineShiftMm");
    const optics = ["--wavelength", "10.6um", "--beam-diameter", "7mm", "--focal-length", "2in"];
    const { status, stdout } = await spotpitch(
      ...["plan", "--kind", "strip", "--width", "20", "--material", "coated-steel", "--machine", mine],
      ...[...optics, "--json", "--out", folder.in("made")],
    );
    expect(status).toBe(0);
    expect(JSON.parse(stdout).job.givenBy).not.toHaveProperty("spotMm");
    expect(
      JSON.parse(stdout).rows.map(({ linesPerInch }: { linesPerInch: number }) => Math.round(linesPerInch)),
    ).toEqual([120, 240]);
  });

  it.each([
    ["{", 3, /machine file ".*bad\.json" cannot be used: it is not JSON/],
    ['{"name":"x","spotMm":9}', 3, /machine file ".*bad\.json" cannot be used: spotMm takes 0\.005 to 5 mm/],
  ])("that is wrong is refused: %s", async (content, code, words) => {
    writeFileSync(folder.in("bad.json"), content);
    const { status, stderr } = await spotpitch(
      "prepare",
      boats,
      "--machine",
      folder.in("bad.json"),
      "--out",
      folder.in("made"),
    );
    expect([status, stderr]).toEqual([code, expect.stringMatching(words)]);
  });
});

describe("the machine that is kept", () => {
  it("serves every command until it is forgotten", async () => {
    expect((await spotpitch("machine")).stdout).toMatch(/^No machine is kept/);
    const { status, stdout } = await spotpitch("machine", mine);
    expect(status).toBe(0);
    expect(stdout).toMatch(
      /^machine +ours\nspot +0\.1 × 0\.14 mm \(along × across\)\nspread +common=2%,local=1%\n/,
    );
    expect((await jobOf()).givenBy?.spotMm).toBe("your default machine (ours)");
    expect((await jobOf("--no-machine")).givenBy).toBeUndefined();
    writeFileSync(folder.in("other.json"), JSON.stringify({ name: "other", spotMm: 0.2 }));
    expect((await jobOf("--machine", folder.in("other.json"))).givenBy).toEqual({
      spotMm: "the machine file other.json",
    });
    // A wrong file changes nothing.
    writeFileSync(folder.in("bad.json"), '{"spotMm": 0.1}');
    expect((await spotpitch("machine", folder.in("bad.json"))).status).toBe(3);
    const kept = folder.in("settings", "spotpitch", "machine.json");
    expect(JSON.parse(readFileSync(kept, "utf8"))).toEqual({ name: "ours", ...figures });
    expect((await spotpitch("machine", "--forget")).stdout).toMatch(/^No machine is kept/);
    expect(existsSync(kept)).toBe(false);
  });
});
