import { readFile } from "node:fs/promises";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { planesOf } from "../../sample-images/planes.js";
import { reportJson } from "../../src/6-report/files/report-json.js";
import { commandReader } from "../../src/cli/command-reader.js";
import { type PreparedPiece, type PrepareOptions, prepare, type Stage } from "../../src/index.js";
import { spotpitch, temporaryFolder } from "../cli/command.js";
import { refusalOf } from "../support/refusal.js";
import { photographPath } from "./photograph.js";

const boats = photographPath("nagasaki-boats");
const options: PrepareOptions = { widthMm: 12, method: "green-noise", material: "slate", seed: 3 };
const typed = ["--width", "12", "--method", "green-noise", "--material", "slate", "--seed", "3"];

let photo: Uint8Array;
let piece: PreparedPiece;
beforeAll(async () => {
  photo = await readFile(boats);
  piece = await prepare(photo, options, { fileName: "image.jpg", reader: commandReader });
});

describe("prepare, from buffer to buffers", () => {
  const folder = temporaryFolder();
  afterAll(() => folder.remove());

  it("gives the bytes that the command writes, in another process", async () => {
    expect((await spotpitch("prepare", boats, ...typed, "--out", folder.path)).status).toBe(0);
    expect(Buffer.from(piece.burnFile).equals(await readFile(folder.in("image.burn.png")))).toBe(true);
    const preview = Buffer.from(piece.previewFile ?? []);
    expect(preview.equals(await readFile(folder.in("image.preview.png")))).toBe(true);
    expect(reportJson(piece.report)).toBe(await readFile(folder.in("image.report.json"), "utf8"));
  });

  it("leaves photo and options as they were", async () => {
    const frozen = Object.freeze({ ...options });
    const bytes = Uint8Array.from(photo);
    const again = await prepare(bytes, frozen, { fileName: "image.jpg", reader: commandReader });
    expect(Buffer.from(bytes).equals(photo)).toBe(true);
    expect(Buffer.from(again.burnFile).equals(piece.burnFile)).toBe(true);
  });

  it("gives the same bytes whatever else was prepared before, or at the same time", async () => {
    const [again] = await Promise.all([
      prepare(photo, options, { fileName: "image.jpg", reader: commandReader }),
      prepare(photo, { ...options, seed: 9, material: "maple", method: "zhou-fang" }),
    ]);
    expect(Buffer.from(again.burnFile).equals(piece.burnFile)).toBe(true);
    expect(Buffer.from(again.previewFile ?? []).equals(piece.previewFile ?? new Uint8Array(1))).toBe(true);
    expect(Buffer.from(again.reportPage ?? []).equals(piece.reportPage ?? new Uint8Array(1))).toBe(true);
    expect(again.report).toEqual(piece.report);
  });

  it("answers to the seed where a method uses chance", async () => {
    const other = await prepare(photo, { ...options, seed: 4 });
    expect(Buffer.from(other.burnFile).equals(piece.burnFile)).toBe(false);
  });

  it("reports its stages in order", async () => {
    const seen: Stage[] = [];
    await prepare(photo, { ...options, method: "auto" }, { onProgress: (stage) => seen.push(stage) });
    expect(seen).toEqual(["decode", "tone", "method", "halftone", "predict", "tones", "write"]);
  });

  it("refuses bad options before it looks at the photo", async () => {
    const noPhoto = new Uint8Array(0);
    const refused = (bad: PrepareOptions) =>
      prepare(noPhoto, bad).then(
        () => undefined,
        (error: unknown) =>
          refusalOf(() => {
            throw error;
          }).code,
      );
    expect(await refused({ linesPerInch: 0 })).toBe("OPTION_INVALID");
    expect(await refused({ method: "magic" })).toBe("OPTION_METHOD_UNKNOWN");
    expect(await refused({ method: "stevenson-arce" })).toBe("OPTION_METHOD_GRID");
    expect(await refused({ material: "vinyl" })).toBe("OPTION_MATERIAL_FORBIDDEN");
    expect(await refused({})).toBe("INPUT_EMPTY");
  });
});

describe("every halftone method", () => {
  it("auto takes the least expected visual error it found, or a simpler method close to it", async () => {
    const { report } = await prepare(photo, { widthMm: 12, method: "auto" });
    const ranking = report.methodRanking ?? [];
    expect(ranking.length).toBeGreaterThan(2);
    const least = Math.min(...ranking.map(({ trialError }) => trialError));
    const chosen = ranking.find(({ method }) => method === report.job.method);
    expect(chosen?.trialError).toBeLessThanOrEqual(1.25 * least);
  });

  it("a plain threshold burns where the wanted tone is nearer to burned than to bare", async () => {
    const asked: PrepareOptions = { widthMm: 12, method: "threshold" };
    const { report } = await prepare(photo, asked);
    const { wanted: tones, bits } = await planesOf(photo, asked);
    const { darkestLuminance = 0, lightestLuminance = 0 } = report.prediction ?? {};
    const middle = (darkestLuminance + lightestLuminance) / 2;
    let wrong = 0;
    for (let i = 0; i < bits.length; i++) {
      if (Math.abs(tones[i] - middle) > 1e-3 && bits[i] !== (tones[i] < middle ? 1 : 0)) wrong++;
    }
    expect(wrong).toBe(0);
    expect(report.job.compensated).toBe(false);
  });
});
