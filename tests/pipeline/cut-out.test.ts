import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { halftoneMethods } from "../../src/4-halftone/catalogue.js";
import { denseData } from "../../src/core/plane.js";
import type { PreparedPiece, PrepareOptions } from "../../src/index.js";
import { prepare } from "../support/prepare.js";

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
/** A pixel of the drawing is 0.1 mm. Its soft edge is one pixel wide, and enlargement adds one more. */
const EDGE_MM = 0.2;
/** Inwards the filter that enlarges it overshoots, up to three of its pixels from the edge. */
const RINGS_MM = 0.3;

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
      const { inside, pixelsInside } = burned(piece, RADIUS_MM - RINGS_MM);
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

  it("keeps its tone to the rim with local contrast: what is cut away is no surrounding", async () => {
    // A uniform mid-grey gains no contrast on any ground.
    for (const material of ["maple", "slate"]) {
      const job: PrepareOptions = { ...box, material, method: "floyd-steinberg", autoTone: false };
      const [plain, more] = await Promise.all(
        [0, 2].map((localContrast) => prepare(lantern("#888"), { ...job, localContrast })),
      );
      const [a, b] = [plain, more].map((piece) => burned(piece, RADIUS_MM - EDGE_MM).inside);
      // A few pixels of some thousands: error diffusion decides otherwise where a fraction rounds differently.
      expect(Math.abs(a - b) / a).toBeLessThan(0.003);
    }
  });

  it("fades as softly with local contrast as without", async () => {
    const soft = Buffer.from(
      '<svg xmlns="http://www.w3.org/2000/svg" width="100" height="100"><defs><radialGradient id="g"><stop offset="0.4" stop-color="#666"/><stop offset="1" stop-color="#666" stop-opacity="0"/></radialGradient></defs><circle cx="50" cy="50" r="50" fill="url(#g)"/></svg>',
    );
    for (const material of ["maple", "slate"]) {
      const job: PrepareOptions = { ...box, material, method: "floyd-steinberg", autoTone: false };
      const [plain, more] = await Promise.all(
        [0, 1.5].map((localContrast) => prepare(soft, { ...job, localContrast })),
      );
      for (const radiusMm of [2, 3, 4, 5]) {
        const [a, b] = [plain, more].map((piece) => burned(piece, radiusMm).outside);
        expect(Math.abs(a - b)).toBeLessThan(0.01 * a + 30);
      }
    }
  });
});
