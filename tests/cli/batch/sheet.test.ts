import { writeFileSync } from "node:fs";
import { afterAll, describe, expect, it } from "vitest";
import { readSheet, sheetUploads } from "../../../src/cli/batch/sheet.js";
import { temporaryFolder } from "../command.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

async function read(content: string | Uint8Array, name = "jobs.csv") {
  writeFileSync(folder.in(name), content);
  return readSheet(folder.in(name));
}

const boat = { file: "boat.jpg", note: "for Ada, blue", values: { width: "80mm", mirror: true } };

describe("a job sheet", () => {
  it.each([
    ["commas", 'file,note,width,mirror\nboat.jpg,"for Ada, blue",80mm,yes\n'],
    ["semicolons", "file;note;width;mirror\r\nboat.jpg;for Ada, blue;80mm;x\r\n"],
    [
      "tabs, spaces and a byte order mark",
      "\ufefffile\t note \t--width\tmirror\n ./boat.jpg\tfor Ada, blue\t80mm\t1\n",
    ],
    [
      "empty lines, empty columns and empty cells",
      'file,,note,width,mirror,density,\n\n,,,,\nboat.jpg,,"for Ada, blue",80mm,true,\n',
    ],
  ])("is read with %s", async (_, text) => {
    expect(await read(text)).toMatchObject([boat]);
  });

  it("is read as JSON", async () => {
    const rows = [{ file: "boat.jpg", note: "for Ada, blue", width: "80mm", mirror: true, density: null }];
    expect(await read(JSON.stringify(rows), "jobs.json")).toMatchObject([boat]);
  });

  it.each([
    ["no column", "name,width\nboat.jpg,80\n", /no column "file"/],
    ["a column twice", "file,width,width\nboat.jpg,80,90\n", /two columns "width"/],
    ["a misspelt option", "file,widht\nboat.jpg,80\n", /"widht".*\bwidth\b/],
    [
      "a file twice",
      "file,width\nboat.jpg,80\n./boat.jpg,90\n",
      /row 2 of .* and row 3 of .* both name "boat\.jpg"/,
    ],
    ["no file in a row", "file,width\n,80\n", /row 2 .* does not name a file/],
    ["a cell under no heading", "file,width\nboat.jpg,80,slate\n", /row 2 .*"slate" without a column name/],
    ["a quote that does not end", 'file,width\n"boat.jpg,80\n', /cannot be read/],
    [
      "a switch that is neither on nor off",
      "file,mirror\nboat.jpg,perhaps\n",
      /"mirror" in row 2 .*"perhaps"/,
    ],
    ["bytes that are no text", Buffer.from("66696c650aff", "hex"), /UTF-8/],
  ])("is refused for %s", async (_, content, message) => {
    await expect(read(content)).rejects.toMatchObject({
      code: "INPUT_SHEET_INVALID",
      message: expect.stringMatching(message),
    });
  });

  it.each(["../boat.jpg", "a/../../boat.jpg", "/etc/boat.jpg", "C:\\boat.jpg"])(
    "does not lead out of its folder: %s",
    (file) => {
      const name = file.replaceAll("\\", "/");
      expect(() =>
        sheetUploads(folder.in("jobs.csv"), [
          { file: name, where: "row 2", folder: folder.path, values: {} },
        ]),
      ).toThrow(/leads out/);
    },
  );
});
