import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { decodePhoto } from "../../../src/1-photo/decode.js";
import { createKernelMemory } from "../../../src/core/kernel-memory.js";
import { lightnessFromLuminance } from "../../../src/core/physics/lightness.js";
import { type PrepareOptions, resolveOptions } from "../../../src/options/options.js";
import { luminanceRows, photoOnGrid } from "../../../src/pipeline/photo/luminance.js";
import { frameOf } from "../../../src/pipeline/photo/piece-size.js";
import { typicalPart } from "../../../src/pipeline/photo/typical-part.js";
import { middleOf } from "../photograph.js";

async function framed(photo: Uint8Array, options: PrepareOptions) {
  const resolved = resolveOptions({ linesPerInch: 254, autoTone: false, ...options });
  const source = await decodePhoto(photo);
  return { resolved, framed: photoOnGrid(source, frameOf(source, resolved), resolved) };
}

/** Sky, white, over three quarters of the width, then a ramp from black to white down the last quarter. */
const shore = await sharp(
  Buffer.from(
    `<svg xmlns="http://www.w3.org/2000/svg" width="1024" height="256"><linearGradient id="g" x1="0" y1="0" x2="0" y2="1"><stop offset="0" stop-color="#000"/><stop offset="1" stop-color="#fff"/></linearGradient><rect width="1024" height="256" fill="#fff"/><rect x="768" width="256" height="256" fill="url(#g)"/></svg>`,
  ),
)
  .png()
  .toBuffer();

describe("the typical part of a picture", () => {
  // A quarter of the part must lie on the ramp, which begins at 768.
  it.each([
    ["as it is", {}, 576],
    ["mirrored", { mirror: true }, 1024 - 576 - 256],
    ["on a larger grid", { widthMm: 122.4, heightMm: 25.6, fit: "contain" } as const, 100 + 576],
  ])("shows as much sky as the whole, %s", async (_, options, left) => {
    const job = await framed(shore, { widthMm: 102.4, ...options });
    expect(typicalPart(job.framed, 256, job.resolved)).toEqual({
      left,
      top: 0,
      columns: 256,
      rows: 256,
    });
  });

  it("is all of a picture that is no larger", async () => {
    const { framed: small, resolved } = await framed(shore, { widthMm: 20 });
    expect(typicalPart(small, 256, resolved)).toEqual({ left: 0, top: 0, columns: 200, rows: 50 });
  });

  it("has the tones of a photograph, pixel by pixel: nearer to the whole than nearly any other part", async () => {
    const { framed: photo, resolved } = await framed(await middleOf("nagasaki-boats", 800), { widthMm: 80 });
    const rows = luminanceRows({ options: resolved, memory: createKernelMemory() }, photo);
    const lightness = Array.from({ length: 800 }, (_, y) =>
      Float64Array.from(rows(y), (code) => lightnessFromLuminance(code / 65535)),
    );
    // The first Wasserstein distance as the mean difference of the sorted values (Villani, Topics in Optimal Transportation, 2003).
    const whole = Float64Array.from(lightness.flatMap((row) => [...row])).sort();
    const distance = (left: number, top: number): number => {
      const part = Float64Array.from(
        lightness.slice(top, top + 256).flatMap((row) => [...row.subarray(left, left + 256)]),
      );
      part.sort();
      let sum = 0;
      for (let n = 0; n < part.length; n++)
        sum += Math.abs(part[n] - whole[Math.floor(((n + 0.5) * whole.length) / part.length)]);
      return sum / part.length;
    };
    const others: number[] = [];
    for (let top = 0; top <= 544; top += 136)
      for (let left = 0; left <= 544; left += 136) others.push(distance(left, top));
    const { left, top } = typicalPart(photo, 256, resolved);
    others.sort((a, b) => a - b);
    expect(distance(left, top)).toBeLessThan(others[2]);
  });

  it("lies within an oval and its border, and takes the tones there for the whole", async () => {
    // White outside the oval, a ramp inside it.
    const medal = await sharp(
      Buffer.from(
        `<svg xmlns="http://www.w3.org/2000/svg" width="1000" height="1000"><linearGradient id="g" x1="0" y1="0" x2="0" y2="1"><stop offset="0" stop-color="#000"/><stop offset="1" stop-color="#999"/></linearGradient><rect width="1000" height="1000" fill="#fff"/><circle cx="500" cy="500" r="500" fill="url(#g)"/></svg>`,
      ),
    )
      .png()
      .toBuffer();
    const job = await framed(medal, { widthMm: 100, oval: true, borderMm: 3, borderGapMm: 2 });
    const { left, top, columns, rows } = typicalPart(job.framed, 256, job.resolved);
    expect([columns, rows]).toEqual([256, 256]);
    for (const [x, y] of [
      [left, top],
      [left + columns, top],
      [left, top + rows],
      [left + columns, top + rows],
    ]) {
      expect(Math.hypot(x - 500, y - 500)).toBeLessThanOrEqual(450);
    }
  });
});
