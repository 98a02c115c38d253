import sharp from "sharp";
import { describe, expect, it } from "vitest";
import type { PlanOptions } from "../../../src/index.js";
import { plan, reportOf } from "../../support/prepare.js";

const options: PlanOptions = { widthMm: 6, spotMm: 0.1, material: "maple", densities: [254] };

const drawing = (inside: string): Buffer =>
  Buffer.from(
    `<svg xmlns="http://www.w3.org/2000/svg" width="60" height="60"><rect width="60" height="60" fill="#fff"/>${inside}</svg>`,
  );
const logo = drawing('<circle cx="30" cy="30" r="20"/>');
/** Large flat areas in four greys. */
const badge = drawing(
  '<circle cx="30" cy="30" r="24" fill="#333"/><circle cx="30" cy="30" r="16" fill="#777"/><circle cx="30" cy="30" r="8" fill="#bbb"/>',
);
/** Kept from one plan to the next. */
const curves = new Map();
const grey = sharp({ create: { width: 80, height: 80, channels: 3, background: "#808080" } })
  .png()
  .toBuffer();
const noise = sharp({
  create: {
    ...{ width: 200, height: 200, channels: 3, background: "#888" },
    noise: { type: "gaussian", mean: 128, sigma: 40 },
  },
})
  .png()
  .toBuffer();

async function notesOf(photo: Buffer, more: PlanOptions = {}) {
  const { notes } = await plan({ ...options, ...more }, photo, { threads: 1, curves });
  return notes.map(({ code }) => code);
}

describe("a plan's picture", () => {
  it("that would be engraved solid is told first, unless the kind or a halftone was asked for", async () => {
    // The same picture, as prepare takes it.
    const report = await reportOf(logo, { widthMm: 6, spotMm: 0.1, material: "maple" });
    expect(report.job).toMatchObject({ kind: "solid", kindGuessed: true });
    expect((await notesOf(logo))[0]).toBe("solid-artwork");
    expect(await notesOf(logo, { kind: "photo" })).not.toContain("solid-artwork");
    expect(await notesOf(logo, { method: "floyd-steinberg" })).not.toContain("solid-artwork");
  });

  it("that may be artwork gets the hint that prepare gives", async () => {
    const report = await reportOf(badge, { widthMm: 6, spotMm: 0.1, material: "maple" });
    expect(report.warnings.map(({ code }) => code)).toContain("looks-like-artwork");
    expect((await notesOf(badge))[0]).toBe("looks-like-artwork");
  });

  it("of one tone has nothing to plan for", async () => {
    expect((await notesOf(await grey))[0]).toBe("nothing-to-see");
    expect(await notesOf(await grey, { kind: "photo" })).toContain("nothing-to-see");
  });

  it("of many tones gets no such note", async () => {
    for (const code of ["solid-artwork", "looks-like-artwork", "nothing-to-see"]) {
      expect(await notesOf(await noise)).not.toContain(code);
    }
  });
});
