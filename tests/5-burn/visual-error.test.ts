import { describe, expect, it } from "vitest";
import { visualErrors } from "../../src/5-burn/visual-error.js";
import { seededRandom } from "../../src/core/random.js";
import { gradualPoints, lighteningPoints, steepPoints } from "../support/materials.js";
import { hasReference } from "../support/reference.js";
import { luminanceOf, plainMemory, round, simdMemory, square } from "./burning.js";
import { burnJob } from "./job.js";
import { photoCrop } from "./photo-crop.js";
import { type ReferenceCase, simulateCases } from "./reference-cases.js";

const viewing = { distanceMm: 300, luminanceCdPerM2: 50 };
const pitch = square(0.05);

const even = (length: number, value: number) => new Float32Array(length).fill(value);

describe("visual error", () => {
  it("is the difference in L* of two even pictures, rms and bias", () => {
    // CIE 15: L*(0.5) = 76.0693, L*(0.18) = 49.4961 (116·Y^(1/3) − 16).
    const [error] = visualErrors([even(6000, 0.18)], even(6000, 0.5), 100, { pitch, viewing });
    expect(error.rms).toBeCloseTo(76.0693 - 49.4961, 3);
    expect(error.bias).toBeCloseTo(49.4961 - 76.0693, 3);
  });

  it("is 0 for what was wanted", () => {
    const random = seededRandom(1);
    const plane = Float32Array.from({ length: 6000 }, () => random());
    const [error] = visualErrors([plane], plane, 100, { pitch, viewing });
    // Single precision leaves a few millionths of L*.
    expect(error.rms).toBeLessThan(1e-4);
  });

  it("does not depend on what else is judged at once", () => {
    const random = seededRandom(2);
    const planes = Array.from({ length: 4 }, () => Float32Array.from({ length: 6000 }, () => random()));
    const target = even(6000, 0.5);
    const together = visualErrors(planes, target, 100, { pitch, viewing });
    expect(together.length).toBe(4);
    planes.forEach((plane, k) => {
      const [alone] = visualErrors([plane], target, 100, { pitch, viewing });
      expect(together[k].rms).toBeCloseTo(alone.rms, 5);
      expect(together[k].bias).toBeCloseTo(alone.bias, 5);
    });
  });

  it("is the same to the bit in both forms of the kernels", () => {
    const random = seededRandom(3);
    const [target, ...planes] = Array.from({ length: 4 }, () =>
      Float32Array.from({ length: 83 * 47 }, () => random()),
    );
    const [simd, plain] = [simdMemory, plainMemory].map((memory) =>
      visualErrors(planes, target, 83, { pitch, viewing, memory }),
    );
    expect(simd).toEqual(plain);
  });

  it("leaves the border out, where there is room for it", () => {
    const target = even(100 * 60, 0.5);
    const bordered = target.slice();
    for (let x = 0; x < 100; x++) bordered[x] = 0;
    const [error] = visualErrors([bordered], target, 100, {
      pitch: square(1),
      viewing: { ...viewing, distanceMm: 1 },
    });
    // Seen from so near that the eye blurs nothing.
    expect(error.rms).toBeLessThan(0.05);
    const [small] = visualErrors([even(15, 0)], even(15, 1), 5, { pitch, viewing });
    expect(small.rms).toBeCloseTo(100, 4);
    const [least] = visualErrors([even(1, 0)], even(1, 1), 1, { pitch, viewing });
    expect(least.rms).toBeCloseTo(100, 4);
  });

  it("blurs texture away that the eye does not see, and keeps what it does", () => {
    // A chequerboard of light 0 and 1 at 1016 lines per inch is an even 0.5 at 300 mm, and is not at 10 mm.
    const checks = Float32Array.from({ length: 128 * 128 }, (_, i) => ((i >> 7) + i) & 1);
    const error = (distanceMm: number) =>
      visualErrors([checks], even(128 * 128, 0.5), 128, {
        pitch: square(0.025),
        viewing: { ...viewing, distanceMm },
      })[0].rms;
    expect(error(300)).toBeLessThan(0.01);
    expect(error(10)).toBeGreaterThan(10);
  });
});

describe.skipIf(!hasReference())(
  "against the brute-force simulation (tests/reference), mirrored borders",
  () => {
    it("judges engraved photographs within 1 %, where a halo is thin for the eye within 5 %", async () => {
      const [columns, rows] = [200, 150];
      const photo = await photoCrop(columns, rows);
      const spot = round(0.115);
      const jobs = (
        [
          ["gradual", gradualPoints, 150, true],
          ["gradual", gradualPoints, 254, true],
          ["gradual", gradualPoints, 508, true],
          ["gradual", gradualPoints, 508, false],
          ["gradual", gradualPoints, 1016, true],
          ["steep", steepPoints, 150, true],
          ["steep", steepPoints, 254, true],
          ["steep", steepPoints, 508, true],
          ["steep", steepPoints, 1016, true],
          ["steep", steepPoints, 1016, false],
          ["lightening", lighteningPoints, 254, true],
        ] as const
      ).map(([name, points, linesPerInch, compensated]) => {
        const pitch = square(25.4 / linesPerInch);
        const job = burnJob(points, pitch, spot, "floyd-steinberg");
        const target = photo.map(job.target);
        const bits = job.bits(photo, columns, rows, compensated);
        const predicted = luminanceOf(job.plan, job.response, bits, columns, rows);
        const [error] = visualErrors([predicted], target, columns, { pitch, viewing });
        // The same number of samples as ours: ten per spot if lines stand apart, otherwise five.
        const sampling = linesPerInch < 300 ? 2 : 1;
        const given: ReferenceCase = { pitch, spot, points, sampling, columns, rows, bits, target };
        // A halo of 64 pixels is 1.6 mm at 1016 lines per inch, beyond which the reference's mirror images still count a little.
        const allowed = linesPerInch > 1000 ? 0.05 : 0.01;
        const words = `${name} at ${linesPerInch}, ${compensated ? "compensated" : "plain"}`;
        return { name: words, error, given, allowed };
      });
      const references = simulateCases(jobs.map(({ given }) => given));
      jobs.forEach(({ name, error, allowed }, n) => {
        const { rms, bias } = references[n];
        expect(rms, name).toBeGreaterThan(0.1);
        expect(Math.abs(error.rms / rms - 1), `${name}: ${error.rms} for ${rms}`).toBeLessThan(allowed);
        expect(Math.abs(error.bias - bias), `${name}: ${error.bias} for ${bias}`).toBeLessThan(allowed * rms);
      });
    });

    it("judges a picture of several tiles as a whole, within 0.5 %", () => {
      // 1300 × 300 pixels make two tiles: grain all over, and a tone that drifts off along the picture.
      const [columns, rows] = [1300, 300];
      const random = seededRandom(5);
      const target = Float32Array.from({ length: columns * rows }, (_, i) => {
        const [x, y] = [(i % columns) / columns, Math.floor(i / columns) / rows];
        return 0.3 + 0.2 * Math.sin(9 * x + 4 * y) * Math.cos(14 * y - x);
      });
      for (const drift of [0.02, 0.15]) {
        const luminance = target.map((wanted, i) => {
          const x = (i % columns) / columns;
          return Math.max(0.01, wanted + drift * Math.sin(5 * x) + 0.3 * (random() - 0.5));
        });
        const [error] = visualErrors([luminance], target, columns, { pitch, viewing });
        const given = { pitch, spot: round(0.115), points: gradualPoints, sampling: 1, columns, rows };
        const [{ rms, bias }] = simulateCases([{ ...given, luminance, target }]);
        expect(Math.abs(error.rms / rms - 1), `${error.rms} for ${rms}`).toBeLessThan(0.005);
        expect(Math.abs(error.bias - bias), `${error.bias} for ${bias}`).toBeLessThan(0.005 * rms);
      }
    });
  },
);
