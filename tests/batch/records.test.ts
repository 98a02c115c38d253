import { describe, expect, it } from "vitest";
import { refusalOf } from "../../src/batch/outcome.js";
import {
  answersJob,
  givenUp,
  holdsWithin,
  type LedgerRecord,
  parseRecord,
  refusedRecord,
} from "../../src/batch/records.js";
import { SpotpitchError } from "../../src/core/errors.js";
import { libraryReader } from "../../src/core/reader.js";

const refused = refusedRecord("boat.jpg", { refused: { code: "INPUT_EMPTY", message: "It is empty." } }, "j");

/** A record that lists these files. */
function recordOf(...paths: string[]): LedgerRecord {
  const outputs = paths.map((path) => ({ path, sha256: `of ${path}` }));
  return { ...refused, entry: { ...refused.entry, outputs: paths }, contentSha256: "c", outputs };
}

describe("answersJob", () => {
  const job = { jobSha256: "j", output: "boat/boat" };
  it.each([
    ["boat/boat.burn.png", true],
    ["boat/boat.preview.png", true],
    ["boat/boat-2.burn.png", false],
    // Of an upload boat.edit.jpg.
    ["boat/boat.edit.burn.png", false],
    ["boat/boat", false],
    ["buoy/buoy.burn.png", false],
  ])("takes files of the job's own name alone: %s", (path, answers) => {
    expect(answersJob(recordOf(path), job)).toBe(answers);
  });
  it("does not take a record of other options", () => {
    expect(answersJob(recordOf(), { ...job, jobSha256: "k" })).toBe(false);
  });
});

describe("a refusal for want of memory", () => {
  const told = {
    refused: { code: "INPUT_TOO_DEMANDING", message: "It is large." },
    contentSha256: "c",
  } as const;
  const record = refusedRecord("boat.jpg", { ...told, memoryBytes: 2e9 }, "j");

  it.each([
    [1e9, true],
    [2e9, true],
    [2.1e9, false],
  ])("holds with %d bytes: %s", (memoryBytes, holds) => {
    const limits = { maxSeconds: 60 };
    expect(holdsWithin(record, { memoryBytes, limits })).toBe(holds);
    expect(holdsWithin(refused, { memoryBytes, limits })).toBe(true);
  });

  it.each([
    [59, true],
    [60, true],
    [61, false],
  ])("holds with %d seconds, if it was for want of 60: %s", (maxSeconds, holds) => {
    const late = refusedRecord("boat.jpg", { ...told, maxSeconds: 60 }, "j");
    expect(holdsWithin(late, { memoryBytes: 1e9, limits: { maxSeconds } })).toBe(holds);
    expect(holdsWithin(record, { memoryBytes: 1e9, limits: { maxSeconds } })).toBe(true);
  });

  it("keeps its content, so that the upload is not tried again, also from its file", () => {
    const kept = parseRecord(JSON.stringify(record));
    expect(kept).toMatchObject({ contentSha256: "c", memoryBytes: 2e9 });
  });
});

describe("givenUp", () => {
  it("lists the files that the new record no longer has", () => {
    const [before, after] = [recordOf("a.png", "b.png"), recordOf("b.png", "c.png")];
    expect(givenUp(before, after).map(({ path }) => path)).toEqual(["a.png"]);
    expect(givenUp(undefined, after)).toEqual([]);
  });
});

describe("parseRecord", () => {
  it("reads what was written", () => {
    for (const record of [recordOf("boat/boat.burn.png"), refused]) {
      expect(parseRecord(JSON.stringify(record))).toEqual(record);
    }
  });
  it.each([
    ["half a record", JSON.stringify(recordOf("a.png")).slice(0, -9)],
    ["a path that leads out", JSON.stringify(recordOf("../a.png"))],
    ["a path in another form", JSON.stringify(recordOf("./a.png"))],
    ["an absolute path", JSON.stringify(recordOf("/tmp/a.png"))],
    ["other files in the entry", JSON.stringify({ ...recordOf("a.png"), entry: refused.entry })],
    ["another type", "[]"],
  ])("reads nothing from %s", (_what, text) => expect(parseRecord(text)).toBeUndefined());
});

describe("refusalOf", () => {
  const error = (code: "INPUT_DAMAGED" | "INPUT_CHANGING" | "OUTPUT_UNWRITABLE") =>
    new SpotpitchError(code, "It is.");
  it("holds for the content", () => {
    const refusal = { refused: { code: "INPUT_DAMAGED", message: "It is." }, contentSha256: "c" };
    expect(refusalOf(error("INPUT_DAMAGED"), "c", libraryReader)).toEqual(refusal);
  });
  it("holds for no content where the file was changing", () => {
    expect(refusalOf(error("INPUT_CHANGING"), "c", libraryReader).contentSha256).toBeUndefined();
  });
  it("throws what is not the upload's fault", () => {
    expect(() => refusalOf(error("OUTPUT_UNWRITABLE"), "c", libraryReader)).toThrow("It is.");
    expect(() => refusalOf(new RangeError("too long"), "c", libraryReader)).toThrow(RangeError);
  });
});
