import { describe, expect, it } from "vitest";
import { bindRows } from "../../../src/cli/batch/bind-rows.js";
import type { SheetRow } from "../../../src/cli/batch/sheet.js";
import { refusedSheet } from "../../../src/cli/refusals.js";

const uploads = ["boat.jpg", "gull.jpg", "net.jpg"].map((id) => ({ id, path: `/uploads/${id}` }));
const rowsOf = (...rows: readonly Partial<SheetRow>[]): SheetRow[] =>
  rows.map((row, i) => ({ file: "boat.jpg", where: `row ${i + 2}`, folder: "/uploads", values: {}, ...row }));
const bound = (...rows: readonly Partial<SheetRow>[]) => bindRows(uploads, rowsOf(...rows), "wait");

describe("rows of a job sheet", () => {
  it("with names make several pieces of one file", () => {
    const { pieces, unfit, waiting } = bound(
      { name: "small", quantity: 3, note: "gift" },
      { name: "large", columns: { order: "A-17" } },
      { file: "GULL.jpg" },
    );
    expect(unfit).toEqual([]);
    expect(pieces.map(({ upload, file, row }) => [upload.id, upload.path, file, row?.where])).toEqual([
      ["boat.jpg [small]", "/uploads/boat.jpg", "boat.jpg", "row 2"],
      ["boat.jpg [large]", "/uploads/boat.jpg", "boat.jpg", "row 3"],
      ["gull.jpg", "/uploads/gull.jpg", "gull.jpg", "row 4"],
    ]);
    expect(waiting.map(({ id }) => id)).toEqual(["net.jpg"]);
  });

  it("for one file without names refuse it, and nothing else", () => {
    const { pieces, unfit } = bound({}, { file: "./boat.jpg".slice(2) }, { file: "gull.jpg" });
    expect(pieces.map(({ upload }) => upload.id)).toEqual(["gull.jpg"]);
    expect(unfit).toMatchObject([
      {
        id: "boat.jpg",
        code: "INPUT_SHEET_INVALID",
        message: expect.stringMatching(/row 2 and row 3.*"name"/),
      },
    ]);
  });

  it("with a fault refuse their piece, with what they say for the lists", () => {
    const fault = refusedSheet.notAQuantity("row 2", "a few");
    const columns = { order: "A-17" };
    const { pieces, unfit } = bound(
      { fault, columns },
      { file: "gull.jpg" },
      { file: "", fault: refusedSheet.noFile("row 4") },
      { file: "buoy.jpg", name: "large" },
    );
    expect(pieces.map(({ upload }) => upload.id)).toEqual(["gull.jpg"]);
    expect(unfit).toMatchObject([
      { id: "boat.jpg", message: expect.stringMatching(/"a few"/), fromSheet: { columns } },
      { id: "row 4", message: expect.stringMatching(/does not name a file/) },
      { id: "buoy.jpg [large]", code: "INPUT_MISSING" },
    ]);
  });

  it("do not take the name of another upload", () => {
    const clash = [...uploads, { id: "boat.jpg [small]", path: "/uploads/boat.jpg [small]" }];
    const { unfit } = bindRows(clash, rowsOf({ name: "small" }), "wait");
    expect(unfit).toMatchObject([{ message: expect.stringMatching(/an upload has that name/) }]);
  });

  it("find a file by its path before its name, and only where one upload has it", () => {
    const many = ["7/boat.jpg", "8/boat.jpg", "8/Gull.jpg", "9/gull.jpg", "9/net.jpg", "net.jpg"];
    const { pieces, unfit } = bindRows(
      many.map((id) => ({ id, path: `/uploads/${id}` })),
      rowsOf(
        ...["boat.jpg", "8/BOAT.jpg", "gull.jpg", "GULL.jpg", "net.jpg", "NET.JPG"].map((file) => ({
          file,
          name: file,
        })),
      ),
      "wait",
    );
    expect(pieces.map(({ file, row }) => `${row?.file}: ${file}`)).toEqual([
      ...["8/BOAT.jpg: 8/boat.jpg", "gull.jpg: 9/gull.jpg", "net.jpg: net.jpg", "NET.JPG: net.jpg"],
    ]);
    expect(unfit.map(({ id }) => id)).toEqual(["boat.jpg [boat.jpg]", "GULL.jpg [GULL.jpg]"]);
  });

  it("look at each upload a few times only, however many rows there are", () => {
    let looks = 0;
    const counted = Array.from({ length: 300 }, (_, i) => ({
      path: `/uploads/${i}.jpg`,
      get id() {
        looks++;
        return `${i}.jpg`;
      },
    }));
    bindRows(counted, rowsOf(...counted.map((_, i) => ({ file: `${i}.JPG` }))), "wait");
    expect(looks / counted.length).toBeLessThan(30);
  });

  it("leave the others to the common options where that is asked for", () => {
    const { pieces, waiting } = bindRows(uploads, rowsOf({}), "prepare");
    expect(pieces.map(({ upload, row }) => [upload.id, row?.where])).toEqual([
      ["boat.jpg", "row 2"],
      ["gull.jpg", undefined],
      ["net.jpg", undefined],
    ]);
    expect(waiting).toEqual([]);
  });
});
