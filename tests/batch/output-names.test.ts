import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  DEFAULT_PATTERN,
  distinctPaths,
  outputPath,
  patternFault,
  safeName,
} from "../../src/batch/output-names.js";

describe("safeName", () => {
  it.each([
    ["boat", "boat"],
    ["../../etc/passwd", "__.._etc_passwd"],
    ["a\nb\tc", "a_b_c"],
    ["con", "_con"],
    ["NUL.tar", "_NUL.tar"],
    ["com1x", "com1x"],
    ["...", "_"],
    ["", "_"],
    ["boat. ", "boat_"],
    ["gull\u202egpj", "gull_gpj"],
    ["船と灯台", "船と灯台"],
  ])("makes %j %j", (name, safe) => expect(safeName(name)).toBe(safe));

  it("keeps long names apart and within 150 bytes, whole characters only", () => {
    const [one, two] = ["é".repeat(120), `${"é".repeat(119)}è`].map(safeName);
    expect(one).not.toBe(two);
    expect(Buffer.byteLength(one)).toBeLessThanOrEqual(152);
    expect(one).not.toContain("\ufffd");
  });
});

describe("outputPath", () => {
  it("never leads out of the folder, whatever the name", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), fc.string({ unit: "binary" }), (folder, stem) => {
        const path = outputPath(DEFAULT_PATTERN, { folder, stem, ext: "jpg", material: "maple" });
        for (const part of path.split("/")) {
          expect(part).not.toMatch(/^\.|^$|[\\:*?"<>|\p{Cc}]/u);
          expect(Buffer.byteLength(part)).toBeLessThanOrEqual(255 - ".preview.png".length);
        }
      }),
      { seed: 1, numRuns: 2000 },
    );
  });
  it.each([
    ["{stem}", "boat"],
    [DEFAULT_PATTERN, "may/pier/boat/boat"],
    ["{material}/{stem}-{ext}", "pale maple/boat-jpg"],
  ])("fills %s", (pattern, path) => {
    const fields = { folder: "may/pier", stem: "boat", ext: "jpg", material: "pale maple" };
    expect(outputPath(pattern, fields)).toBe(path);
  });
});

describe("patternFault", () => {
  it.each([["{name}"], ["fixed"], ["../{stem}"], ["/{stem}"], ["c:\\{stem}"]])("refuses %s", (pattern) =>
    expect(patternFault(pattern)).toBeDefined(),
  );
  it("takes the default", () => expect(patternFault(DEFAULT_PATTERN)).toBeUndefined());
});

describe("distinctPaths", () => {
  it("tells apart names that differ by case, accents or ending, whatever their order", () => {
    const wanted: [string, string][] = [
      ["boat.jpg", "boat/boat"],
      ["Boat.png", "Boat/Boat"],
      ["dog.jpg", "dog/dog"],
    ];
    const paths = distinctPaths(new Map(wanted));
    expect(distinctPaths(new Map([...wanted].reverse()))).toEqual(paths);
    expect(paths.get("dog.jpg")).toBe("dog/dog");
    expect(paths.get("boat.jpg")).toMatch(/^boat-[0-9a-f]{10}\/boat-[0-9a-f]{10}$/);
    expect(new Set([...paths.values()].map((path) => path.toLowerCase())).size).toBe(3);
  });
});
