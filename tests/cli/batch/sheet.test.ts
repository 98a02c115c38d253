import { writeFileSync } from "node:fs";
import { afterAll, describe, expect, it, vi } from "vitest";
import { readSheet, rowsInside, sheetUploads } from "../../../src/cli/batch/sheet.js";
import { temporaryFolder } from "../command.js";

/** As on Windows, where it writes backslashes. */
vi.mock("node:path", async (original) => {
  const path = await original<typeof import("node:path")>();
  return { ...path, normalize: path.win32.normalize };
});

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
    ["an option", { file: "boat.jpg", width: "80mm", Width: "120mm" }, /row 2 of .*two columns "width"/],
    ["a quantity", { file: "boat.jpg", qty: 2, copies: 5 }, /row 2 of .*two columns "quantity"/],
  ])("as JSON is refused for two names of one meaning in a row: %s", async (_, row, message) => {
    const rows = [{ file: "gull.jpg", Width: 30 }, row];
    await expect(read(JSON.stringify(rows), "jobs.json")).rejects.toThrow(message);
  });

  it("may have another name of one meaning in each row of JSON", async () => {
    const rows = await read('[{"file":"a","Width":"3mm","qty":2},{"file":"b","width":"4mm"}]', "jobs.json");
    expect(rows).toMatchObject([{ quantity: 2, values: { width: "3mm" } }, { values: { width: "4mm" } }]);
  });

  it("has its paths in one form on every system", async () => {
    const rows = await read("file\n.\\orders\\7\\boat.jpg\norders//8/../7/gull.jpg\n");
    expect(rows.map(({ file }) => file)).toEqual(["orders/7/boat.jpg", "orders/7/gull.jpg"]);
  });

  it.each([
    ["no column", "name,width\nboat.jpg,80\n", /no column "file"/],
    ["a column twice", "file,width,width\nboat.jpg,80,90\n", /two columns "width"/],
    ["a misspelt option", "file,widht\nboat.jpg,80\n", /"widht".*\bwidth\b/],
    ["a column twice, in other letters", "file,Width,WIDTH\nboat.jpg,80,90\n", /two columns "width"/],
    ["an option by another name", "file,dpi\nboat.jpg,300\n", /"dpi".*"density"/],
    ["a quote that does not end", 'file,width\n"boat.jpg,80\n', /cannot be read/],
    ["bytes that are no text", Buffer.from("66696c650a00ff", "hex"), /UTF-8/],
    // "Zoë" and "Stra§e" of a Mac: 0x91 is ë there, and 0xa7 is ß.
    ["letters that Windows-1252 has not there", Buffer.from("66696c650a5a6f91", "hex"), /UTF-8/],
    ["signs where only letters can stand", Buffer.from("66696c650a53747261a765", "hex"), /UTF-8/],
  ])("is refused for %s", async (_, content, message) => {
    await expect(read(content)).rejects.toMatchObject({
      code: "INPUT_SHEET_INVALID",
      message: expect.stringMatching(message),
    });
  });

  it.each(["../boat.jpg", "a/../../boat.jpg", "/etc/boat.jpg", "C:\\boat.jpg"])(
    "does not lead out of its folder: %s",
    (file) => {
      const rows = [
        { file: file.replaceAll("\\", "/"), where: "row 2", folder: folder.path, values: {} },
        { file: "boat.jpg", where: "row 3", folder: folder.path, values: {} },
      ];
      expect(rowsInside(rows).map(({ fault }) => fault?.message)).toEqual([
        expect.stringMatching(/row 2 leads out/),
        undefined,
      ]);
      expect(sheetUploads(folder.in("jobs.csv"), rows)).toEqual([
        { id: "boat.jpg", path: folder.in("boat.jpg"), below: folder.path },
      ]);
    },
  );
});

describe("a job sheet as shops have it", () => {
  it("keeps the shop's own columns, and never reads them as options", async () => {
    const [row] = await read(
      "Order,FILE,customer,Width,e-mail,colour of box,Auto_Tone\nA-17,boat.jpg,Ada Kowalski,80mm,=1+1,blue,no\n",
    );
    expect(row).toMatchObject({ file: "boat.jpg", values: { width: "80mm", "auto-tone": false } });
    expect(row.columns).toEqual({
      Order: "A-17",
      customer: "Ada Kowalski",
      "e-mail": "=1+1",
      "colour of box": "blue",
    });
  });

  it.each([
    "widht",
    "widths",
    "Heigth",
    "materiall",
    "densty",
    "quantitiy",
    "spot size",
    "Width (mm)",
    "photo width",
    "Item width",
    "Product size mm",
    "Order material",
    "Customer text",
    "Item heights",
  ])("tells a head that is nearly an option: %s", async (head) => {
    await expect(read(`file,${head}\nboat.jpg,1\n`)).rejects.toThrow(/Unknown option/);
  });

  it.each([
    ["No. of copies", /Use "quantity"\. If the column is the shop's own, name it without the word "copies"/],
    ["order_qty", /Use "quantity"/],
    ["Item width", /Use "width"\. If/],
    ["Product sizes", /Use "width" and "height"\. If/],
    ["ring diameter", /Use "around"\. If/],
  ])("says what to write for a head of several words: %s", async (head, words) => {
    await expect(read(`file,${head}\nboat.jpg,1\n`)).rejects.toThrow(words);
  });

  it.each([
    "order",
    "amount",
    "Amount paid",
    "payment method",
    "Customer name",
    "Order no.",
    "customer",
    "date",
    "item",
    "shop",
    "title",
    "id",
    "task",
    "zone",
    "SKU",
    "price (EUR)",
    "Kunde",
  ])("takes a head that only resembles one, or none: %s", async (head) => {
    expect((await read(`file,${head}\nboat.jpg,17\n`))[0].columns).toEqual({ [head]: "17" });
  });

  it("has decimal commas where it has semicolons, and lists keep theirs", async () => {
    const [row] = await read(
      "file;width;spot;crop;offered;density\nboat.jpg;80,5;0,08x0,15mm;10%,5%,80%,60%;254,300;1,234/mm\n",
    );
    expect(row.values).toEqual({
      width: "80.5",
      spot: "0.08x0.15mm",
      crop: "10%,5%,80%,60%",
      offered: "254,300",
      density: "1.234/mm",
    });
    expect((await read('file,width\nboat.jpg,"80,5"\n'))[0].values).toEqual({ width: "80,5" });
  });

  it.each([
    ["Windows-1252", Buffer.from("file;customer\r\nboat.jpg;Zo\u00eb M\u00fcller \u00a7 5\r\n", "latin1")],
    ["UTF-16", Buffer.from("\ufefffile\tcustomer\r\nboat.jpg\tZo\u00eb M\u00fcller \u00a7 5\r\n", "utf16le")],
  ])("is read in %s", async (_, bytes) => {
    expect((await read(bytes))[0].columns).toEqual({ customer: "Zoë Müller § 5" });
  });

  it("may have several rows for one file, each with a name and a quantity", async () => {
    const rows = await read("file,name,qty,material\nboat.jpg,small,3,slate\nboat.jpg,large,,maple\n");
    expect(rows).toMatchObject([
      { file: "boat.jpg", name: "small", quantity: 3, values: { material: "slate" } },
      { file: "boat.jpg", name: "large", values: { material: "maple" } },
    ]);
  });

  it.each([
    ["no file", ",80,,", /row 3 .* does not name a file/],
    ["a cell under no head", "gull.jpg,80,,,slate", /row 3 .*"slate" without a column name/],
    ["a switch that is neither on nor off", "gull.jpg,80,perhaps,", /"mirror" in row 3 .*"perhaps"/],
    ["no quantity", "gull.jpg,80,,a few", /"quantity" in row 3 .*1 to 1000.*"a few"/],
    ["a quantity of none", "gull.jpg,80,,0", /"quantity" in row 3 .*"0"/],
  ])("with %s in a row is wrong in that row only", async (_, line, message) => {
    const rows = await read(`file,width,mirror,quantity\nboat.jpg,80,yes,2\n${line}\nnet.jpg,70,,\n`);
    expect(rows.map(({ fault }) => fault?.message)).toEqual([
      undefined,
      expect.stringMatching(message),
      undefined,
    ]);
  });

  it.each(["itemWidth", "productSizeMm", "materialOfOrder"])(
    "takes words apart that are written as one: %s",
    (head) => expect(read(`file,${head}\nboat.jpg,9\n`)).rejects.toThrow(/Unknown option/),
  );

  it("may begin with a line that tells the delimiter", async () => {
    const [row] = await read("\ufeffsep=;\r\nfile;width;customer\r\nboat.jpg;80,5;Ada, Ben\r\n");
    expect(row).toMatchObject({
      file: "boat.jpg",
      values: { width: "80.5" },
      columns: { customer: "Ada, Ben" },
    });
    expect(row.where).toMatch(/^row 3 of /);
  });

  it("counts rows as a spreadsheet does, empty ones too", async () => {
    const rows = await read("\nfile,width\n\n,\nboat.jpg,80\n");
    expect(rows).toMatchObject([{ where: expect.stringMatching(/^row 5 of /) }]);
  });
});
