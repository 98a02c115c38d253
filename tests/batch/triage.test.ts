import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { resolveOptions } from "../../src/options/options.js";
import { triagePhoto } from "../../src/pipeline/triage/triage.js";
import {
  blurred,
  clipped,
  compressed,
  dotted,
  faint,
  original,
  pictures,
  shrunk,
} from "./triage-pictures.js";

const options = resolveOptions({ widthMm: 80, spotMm: 0.1, linesPerInch: 254 });

const triage = async (file: Promise<Uint8Array>, asked = options) =>
  triagePhoto(await decodePhoto(await file), asked);

/** The grade of a finding for each picture of a set with the same defect; "ready" if it was not found. */
const gradesOf = (set: readonly string[], degrade: (path: string) => Promise<Uint8Array>, code: string) =>
  Promise.all(
    set.map(async (path) => {
      const { findings } = await triage(degrade(path));
      return findings.find((finding) => finding.code === code)?.grade ?? "ready";
    }),
  );

const others = pictures.counting;
const count = <T>(list: readonly T[], is: (value: T) => boolean): number => list.filter(is).length;

describe("triage of eight pictures on which no threshold was set", () => {
  it("finds nothing in good ones", async () => {
    const found = await Promise.all(others.map(async (path) => (await triage(original(path))).findings));
    expect(found.flat()).toEqual([]);
  });

  // 1.25 pixels for each spot: 1.9, 5.7 and 9.4 spots at half maximum, beside each picture's own blur.
  it("tells blur of 1 pixel once, of a picture that was soft before, and asks at 3 and at 5 every time", async () => {
    const at = (sigma: number) => gradesOf(others, (path) => blurred(path, sigma), "BLURRED");
    const [one, three, five] = [await at(1), await at(3), await at(5)];
    expect(count(one, (grade) => grade !== "ready")).toBeLessThanOrEqual(1);
    expect([...three, ...five].filter((grade) => grade !== "ask")).toEqual([]);
  });

  it("tells JPEG quality 30 from 70 with two misses and two alarms of eight, and asks at 8 with one miss", async () => {
    const at = (quality: number) => gradesOf(others, (path) => compressed(path, quality), "BLOCKS");
    const [q90, q70, q30, q8] = [await at(90), await at(70), await at(30), await at(8)];
    expect(count(q90, (grade) => grade !== "ready")).toBe(0);
    expect(count(q70, (grade) => grade !== "ready")).toBeLessThanOrEqual(2);
    expect(count(q30, (grade) => grade === "ready")).toBeLessThanOrEqual(2);
    expect(count(q8, (grade) => grade !== "ask")).toBeLessThanOrEqual(1);
  });

  it("asks about dots that are there already, every time", async () => {
    expect(new Set(await gradesOf(others, dotted, "ALREADY_DITHERED"))).toEqual(new Set(["ask"]));
  });

  it("tells a quarter of the contrast, and what is clipped", async () => {
    expect(await gradesOf(others, (path) => faint(path, 0.25), "LOW_CONTRAST")).not.toContain("ready");
    expect(await gradesOf(others, (path) => clipped(path, 2, 0), "CLIPPED_HIGHLIGHTS")).not.toContain(
      "ready",
    );
    expect(await gradesOf(others, (path) => clipped(path, 2, -160), "CLIPPED_SHADOWS")).not.toContain(
      "ready",
    );
  });
});

describe("triage by size", () => {
  // 80 mm at a spot and pitch of 0.1 mm show 10 pixels a mm: 800 pixels, of which a twentieth may be missing.
  it.each([
    [770, "ready"],
    [750, "note"],
    [410, "note"],
    [390, "ask"],
  ] as const)("makes of %d pixels on 80 mm: %s", async (columns, grade) => {
    const { findings, figures } = await triage(shrunk(others[2], columns));
    expect(findings.find(({ code }) => code === "TOO_FEW_PIXELS")?.grade ?? "ready").toBe(grade);
    // Rounding to whole burn pixels of 0.1 mm cuts off less than one pixel of the photo's width.
    expect(Math.abs(figures.largestWidthMm - columns / 10)).toBeLessThan(0.1);
    expect(Math.abs(figures.pxPerMm - columns / 80)).toBeLessThan(1 / 80);
  });

  it("names what a crop takes away", async () => {
    // 1000 × 473 pixels to a square: 52.7 % are lost.
    const square = resolveOptions({ widthMm: 40, heightMm: 40 });
    const { findings } = await triage(original(others[2]), square);
    expect(findings[0]).toMatchObject({
      code: "CROPPED",
      grade: "ask",
      message: expect.stringMatching(/53 %/),
    });
  });
});
