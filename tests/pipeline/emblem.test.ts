import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { lightnessFromLuminance } from "../../src/core/physics/lightness.js";
import type { PrepareOptions } from "../../src/options/options.js";
import type { Table } from "../../src/pipeline/kept-tables.js";
import { makePiece } from "../../src/pipeline/make-piece.js";

/** A ring in one colour about a core in another, and a bar in that colour, with hard edges on a transparent ground. */
const emblem = (ring: string, core: string) =>
  sharp(
    Buffer.from(
      `<svg xmlns="http://www.w3.org/2000/svg" width="800" height="600"><circle cx="300" cy="300" r="220" fill="${ring}"/><path d="M560 120h160v360H560z" fill="${core}"/><circle cx="300" cy="300" r="90" fill="${core}"/></svg>`,
    ),
  );

const files = {
  transparent: (ring: string, core: string) => emblem(ring, core).png().toBuffer(),
  "on white": (ring: string, core: string) =>
    emblem(ring, core).flatten({ background: "#fff" }).png().toBuffer(),
  "a JPEG": (ring: string, core: string) =>
    emblem(ring, core).flatten({ background: "#fff" }).jpeg({ quality: 80 }).toBuffer(),
};

const places = { ground: [20, 20], ring: [130, 300], core: [300, 300] } as const;

const curves = new Map<string, Table>();

/** The wanted L* of ground, ring and core, and the warnings. */
async function engraved(photo: Uint8Array, options: PrepareOptions) {
  const job = { widthMm: 32, linesPerInch: 254, ...options };
  const wishes = { files: {}, keepBitmap: true, wholeReport: false, aboutPhoto: true };
  const { report, judged } = await makePiece(photo, job, wishes, { curves });
  if (!judged) throw new Error("The piece was not judged.");
  const { codes, picture, job: made } = judged;
  const { columns, rows } = picture.frame;
  const tones = Object.values(places).map(([x, y]) => {
    const row = codes(Math.round((y * rows) / 600));
    return lightnessFromLuminance(made.model.wantedByCode[row[Math.round((x * columns) / 800)]]);
  });
  return { tones, fidelity: report.fidelity, warnings: report.warnings };
}

const distances = ([ground, ring, core]: readonly number[]): number[] =>
  [ground - ring, ring - core, core - ground].map(Math.abs);

describe("an emblem of two colours", () => {
  for (const [kind, file] of Object.entries(files)) {
    for (const [ring, core] of [
      ["#1d2f6f", "#f08a24"],
      ["#ffd400", "#1d2f6f"],
      ["#111111", "#888888"],
      ["#1a2a6c", "#7a1f1f"],
    ]) {
      it(`keeps both apart from each other and from the ground: ${ring} and ${core}, ${kind}`, async () => {
        for (const material of kind === "transparent" ? ["maple", "slate"] : ["slate"]) {
          const { tones, fidelity, warnings } = await engraved(await file(ring, core), {
            material,
            method: "floyd-steinberg",
          });
          // Three just noticeable differences of about 1 L*. Slate has 27 L* in all.
          for (const distance of distances(tones)) expect(distance).toBeGreaterThan(3);
          expect(fidelity?.lostShare).toBeLessThan(0.03);
          expect(warnings.map(({ code }) => code)).not.toContain("colours-merge");
        }
      });
    }
  }

  // Both have a relative luminance of 0.1546 (0.2126 R + 0.7152 G + 0.0722 B of linear light), so no grey tells them apart.
  it("of equally light colours is told to lose one, with its share", async () => {
    for (const file of Object.values(files)) {
      const { fidelity, warnings } = await engraved(await file("#d22f2f", "#2c7d2c"), {
        method: "floyd-steinberg",
      });
      const merged = warnings.filter(({ code }) => code === "colours-merge");
      expect(merged).toHaveLength(1);
      expect(merged[0].message).toMatch(/#d[0-9a-f]{5} and #2[0-9a-f]{5}|#2[0-9a-f]{5} and #d[0-9a-f]{5}/);
      // The core and the bar: (π·90² + 160·360)/(800·600) = 0.173; the ring without its core: (π·220² − π·90²)/480000 = 0.264.
      expect(fidelity?.lost.colours).toBeCloseTo(0.173, 1);
      expect(warnings.map(({ code }) => code)).not.toContain("distinctions-lost");
    }
  });

  it("is told to lose one if it is engraved as solid artwork", async () => {
    const { fidelity, warnings } = await engraved(await files.transparent("#1d2f6f", "#a04a10"), {
      kind: "solid",
    });
    const merged = warnings.find(({ code }) => code === "colours-merge");
    expect(merged?.message).toMatch(/kind: "photo"/);
    // They differ in lightness, so the map has the loss already: it must not count twice.
    expect(fidelity?.lost.colours).toBe(0);
    expect(fidelity?.lost.solid).toBeGreaterThan(0.05);
  });
});
