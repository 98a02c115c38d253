import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { denseData, halftoneMethods, type PreparedPiece, prepare } from "../../src/index.js";

/** A lantern: a disc of one colour, radius 40 in a transparent square of 100. */
const lantern = (colour: string) =>
  Buffer.from(
    `<svg xmlns="http://www.w3.org/2000/svg" width="100" height="100"><circle cx="50" cy="50" r="40" fill="${colour}"/></svg>`,
  );
const asPng = (drawing: Buffer) => sharp(drawing).png().toBuffer();

/** Burned pixels inside and outside a circle in mm about the middle of the piece. */
function burned({ bitmap, report }: PreparedPiece, radiusMm: number) {
  const { columns, rows, pitchAlongMm, pitchAcrossMm } = report.job;
  const bits = denseData(bitmap);
  const count = { inside: 0, outside: 0, pixelsInside: 0 };
  for (let y = 0; y < rows; y++) {
    for (let x = 0; x < columns; x++) {
      const distanceMm = Math.hypot(
        (x + 0.5 - columns / 2) * pitchAlongMm,
        (y + 0.5 - rows / 2) * pitchAcrossMm,
      );
      if (distanceMm < radiusMm) count.pixelsInside++;
      if (bits[y * columns + x]) count[distanceMm < radiusMm ? "inside" : "outside"]++;
    }
  }
  return count;
}

/** 10 mm high in a box 15 mm wide: the square is 10 mm, the disc of radius 4 mm, with 2.5 mm of box on either side. */
const box = { widthMm: 15, heightMm: 10, fit: "contain", linesPerInch: 508, bitmapOnly: true } as const;
const RADIUS_MM = 4;
/** A pixel of the drawing is 0.1 mm, and the filter that enlarges it reaches three of them. */
const EDGE_MM = 0.3;

describe("a cut-out with transparency", () => {
  it.each([
    ["maple", "black", "png"],
    ["maple", "black", "svg"],
    ["slate", "white", "png"],
    ["slate", "white", "svg"],
  ] as const)(
    "on %s, %s, as %s: burns its shape and nothing where it is transparent",
    async (material, colour, type) => {
      const drawing = lantern(colour);
      const piece = await prepare(type === "png" ? await asPng(drawing) : drawing, {
        ...box,
        material,
        method: "floyd-steinberg",
      });
      expect(burned(piece, RADIUS_MM + EDGE_MM).outside).toBe(0);
      const { inside, pixelsInside } = burned(piece, RADIUS_MM - EDGE_MM);
      expect(inside / pixelsInside).toBeGreaterThan(0.99);
    },
  );

  it.each([
    ["maple", "white"],
    ["slate", "black"],
  ] as const)("on %s, %s, the tone of the bare surface: burns nothing at all", async (material, colour) => {
    const piece = await prepare(lantern(colour), { ...box, material, method: "floyd-steinberg" });
    expect(piece.report.coverage.burnFraction).toBe(0);
    expect(piece.report.runTime).toMatchObject({ lines: 0, seconds: 0 });
  });

  it.each(halftoneMethods.filter(({ pitchRatio }) => pitchRatio === undefined).map(({ id }) => id))(
    "stays bare round a mid-grey shape with %s",
    async (method) => {
      for (const material of ["maple", "slate"]) {
        const piece = await prepare(lantern("#888"), { ...box, material, method });
        expect(burned(piece, RADIUS_MM + EDGE_MM).outside).toBe(0);
      }
    },
  );
});
