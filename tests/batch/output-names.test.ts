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

  const ENDINGS = [".burn.png", ".burn.bmp", ".preview.png", ".report.json", ".report.html"];
  /** Every file that is written for these uploads, and every folder that it takes. */
  function filesAndFolders(ids: readonly string[]) {
    const wanted = ids.map((id) => {
      const [, folder, stem, ext] = /^(?:(.*)\/)?([^/]*?)(?:\.([^./]*))?$/.exec(id) ?? [];
      return [
        id,
        outputPath(DEFAULT_PATTERN, { folder: folder ?? "", stem, ext: ext ?? "", material: "m" }),
      ] as const;
    });
    const paths = [...distinctPaths(new Map(wanted)).values()].map((path) => path.toLowerCase());
    const folders = paths.flatMap((path) =>
      path.split("/").map((_, i, parts) => parts.slice(0, i).join("/")),
    );
    const files = paths.flatMap((path) => ENDINGS.map((ending) => path + ending));
    return { files: [...files, "index.html", "batch.json", "batch.csv"], folders: new Set(folders) };
  }

  it("gives no folder the name of a file, the batch's own files among them", () => {
    const part = fc.constantFrom(
      "a",
      "A",
      "a.burn.png",
      "a.report.html.",
      "index.html",
      "batch.json",
      "set-aside",
      "Decisions",
      "thumbnails",
    );
    const id = fc
      .tuple(fc.array(part, { maxLength: 3 }), part)
      .map((parts) => `${parts.flat().join("/")}.jpg`);
    fc.assert(
      fc.property(fc.uniqueArray(id, { maxLength: 8 }), (ids) => {
        const { files, folders } = filesAndFolders(ids);
        for (const file of files) expect(folders).not.toContain(file);
        expect(new Set(files).size).toBe(files.length);
        for (const own of ["set-aside", "decisions", "thumbnails"]) expect(folders).not.toContain(own);
      }),
      { seed: 3, numRuns: 500 },
    );
  });

  it("leaves folders that meet no file as they are, and uploads of one folder together", () => {
    const paths = distinctPaths(
      new Map([
        ["index.html/x.jpg", "index.html/x/x"],
        ["index.html/y.jpg", "index.html/y/y"],
        ["pier.html/z.jpg", "pier.html/z/z"],
      ]),
    );
    expect(paths.get("pier.html/z.jpg")).toBe("pier.html/z/z");
    const [x, y] = ["x", "y"].map((name) => paths.get(`index.html/${name}.jpg`)?.split("/")[0]);
    expect(x).toMatch(/^index\.html-[0-9a-f]{10}$/);
    expect(y).toBe(x);
  });
});
