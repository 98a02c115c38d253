import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../src/1-photo/decode.js";
import { drawingColumns } from "../../src/1-photo/drawing/drawing-size.js";
import { codesOf, opacityOf, refusalOf, sizeOf } from "./expectations.js";
import { pngFile } from "./make-file.js";

const svg = (attributes: string, content = '<rect width="100%" height="100%" fill="#808080"/>'): Buffer =>
  Buffer.from(`<svg xmlns="http://www.w3.org/2000/svg" ${attributes}>${content}</svg>`);

describe("an SVG drawing", () => {
  it.each([
    [10, 1],
    [999, 1],
    [1, 700],
    [900, 800],
  ])("gets at least %i columns and %i rows, and hardly more", async (minColumns, minRows) => {
    const photo = await decodePhoto(svg('width="24.4" height="12.3"'), { minColumns, minRows });
    const [rows, columns] = sizeOf(photo);
    expect(columns).toBeGreaterThanOrEqual(minColumns);
    expect(rows).toBeGreaterThanOrEqual(minRows);
    // Half a pixel of 33 columns and 16 rows is an uncertainty of 5 % in both directions.
    const wanted = Math.max(24.4, minColumns, (minRows * 24.4) / 12.3);
    expect(columns).toBeLessThan(1.1 * wanted);
    expect(photo).toMatchObject({ format: "svg", sourceBits: 8, pages: 1 });
  });

  it("keeps the size it declares where that is larger", async () => {
    const photo = await decodePhoto(svg('width="1500" height="40"'), { minColumns: 100 });
    expect(sizeOf(photo)).toEqual([40, 1500]);
  });

  it.each([
    ["a view box alone", 'viewBox="0 0 30 20"'],
    ["sizes in millimetres", 'width="30mm" height="20mm"'],
    ["sizes in per cent", 'width="100%" height="100%" viewBox="0 0 30 20"'],
  ])("with %s is drawn 1000 columns wide where nobody asks for more", async (_, attributes) => {
    const [rows, columns] = sizeOf(await decodePhoto(svg(attributes)));
    expect(columns).toBe(1000);
    expect(columns / rows).toBeCloseTo(1.5, 1);
  });

  it("with no size at all is as large as what it shows", async () => {
    const photo = await decodePhoto(svg("", '<rect x="5" y="5" width="30" height="20"/>'));
    const [rows, columns] = sizeOf(photo);
    expect(columns / rows).toBeCloseTo(1.5, 1);
    expect(codesOf(photo)[rows * 500 + 500]).toBe(0);
  });

  it("in millimetres without a view box shows its pixels at 96 to the inch", async () => {
    // 25.4 mm are 96 px (CSS Values and Units), so that this rectangle covers the left half.
    const content = '<rect width="48" height="96" fill="#000"/>';
    const photo = await decodePhoto(svg('width="25.4mm" height="25.4mm"', content));
    const [, columns] = sizeOf(photo);
    const middle = opacityOf(photo)?.slice(500 * columns, 501 * columns) ?? [];
    expect(columns).toBe(1000);
    expect(middle.filter((opacity) => opacity > 32767).length).toBeCloseTo(500, -1);
  });

  it("is transparent where nothing is drawn", async () => {
    const content = '<rect width="10" height="20" fill="#808080"/>';
    const photo = await decodePhoto(svg('width="20" height="20"', content), { minColumns: 20 });
    const [rows, columns] = sizeOf(photo);
    const middle = Math.floor(rows / 2) * columns;
    expect(codesOf(photo)[middle + 2]).toBe(0x80 * 257);
    expect(opacityOf(photo)?.[middle + 2]).toBe(65535);
    expect(opacityOf(photo)?.[middle + columns - 3]).toBe(0);
  });

  it.each([
    [
      "INPUT_TOO_LARGE",
      'width="30000" height="30000"',
      /30000 × 30000 pixels \(900 megapixels\).*268402689/s,
    ],
    ["INPUT_DAMAGED", 'width="1e9" height="20"', /SVG drawing/],
    ["INPUT_DAMAGED", 'width="0" height="20"', /SVG drawing/],
  ] as const)("is refused, %s, with %s", async (code, attributes, message) => {
    const refusal = await refusalOf(svg(attributes));
    expect(refusal.code).toBe(code);
    expect(refusal.message).toMatch(message);
  });

  it("is refused where it holds nothing to draw, breaks off, or multiplies itself", async () => {
    const entities = [..."bcdefghij"].map((name, i) => {
      const tenfold = `&${"abcdefghi"[i]};`.repeat(10);
      return `<!ENTITY ${name} "${tenfold}">`;
    });
    const bomb = `<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa">${entities.join("")}]>${svg("", "<text>&j;</text>")}`;
    for (const file of [svg("", ""), Buffer.from('<svg width="10" height="10"><rect'), Buffer.from(bomb)]) {
      expect((await refusalOf(file)).code).toBe("INPUT_DAMAGED");
    }
  });

  it("never loads a file or an address that it points to", async () => {
    const black = pngFile({ type: "grey", bits: 8, columns: 1, rows: 1, samples: [0] });
    let requests = 0;
    const server = createServer((_, response) => {
      requests++;
      response.end(black);
    });
    await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
    const folder = mkdtempSync(join(tmpdir(), "spotpitch-drawing-"));
    try {
      const { port } = server.address() as AddressInfo;
      const path = join(folder, "black.png");
      writeFileSync(path, black);
      const darkest = async (href: string) => {
        const white = '<rect width="10" height="10" fill="#fff"/>';
        const image = `<image width="10" height="10" preserveAspectRatio="none" href="${href}"/>`;
        const photo = await decodePhoto(svg('width="10" height="10"', white + image), { minColumns: 10 });
        return Math.min(...codesOf(photo));
      };
      // An embedded picture is shown, which proves that the other one is refused.
      expect(await darkest(`data:image/png;base64,${black.toString("base64")}`)).toBe(0);
      for (const href of [path, pathToFileURL(path).href, `http://127.0.0.1:${port}/black.png`]) {
        expect(await darkest(href), href).toBe(65535);
      }
      expect(requests).toBe(0);
    } finally {
      server.close();
      rmSync(folder, { recursive: true });
    }
  });
});

describe("drawingColumns", () => {
  it("is what the drawing declares, at 96 pixels for 72 units, where that is enough", () => {
    expect(drawingColumns(2000, 1200, 1000, 800)).toBe(1500);
  });

  it("stays within the renderer's limits on sides and pixels", () => {
    expect(drawingColumns(40_000, 10, 1e9, 1)).toBeLessThanOrEqual(32_767);
    expect(drawingColumns(10, 40_000, 1e9, 1) * 4000).toBeLessThanOrEqual(32_767);
    expect(drawingColumns(100, 100, 1e9, 1e9) ** 2).toBeLessThanOrEqual(16_383 ** 2);
    expect(drawingColumns(1, 32_767, 1, 1)).toBe(1);
  });
});
