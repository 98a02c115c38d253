import FFT from "fft.js";
import { describe, expect, it } from "vitest";
import {
  forwardLine,
  fourierPlan,
  inverseLine,
  reversedOrder,
  VALUE_FLOATS,
} from "../../src/5-burn/fourier-kernels.js";
import { seededRandom } from "../../src/core/random.js";
import { plainMemory, simdMemory } from "./burning.js";

const lengths = [4, 8, 16, 64, 128, 256, 512, 1024];

/** Four sequences of noise, as a line holds them. */
function noise(length: number): Float32Array {
  const random = seededRandom(length);
  return Float32Array.from({ length: VALUE_FLOATS * length }, () => random() - 0.5);
}

/** Sequence `lane` of a line, interleaved as fft.js takes it. */
const sequence = (line: Float32Array, lane: number): number[] =>
  Array.from({ length: line.length / 4 }, (_, i) => line[VALUE_FLOATS * (i >> 1) + 4 * (i & 1) + lane]);

function transformed(line: Float32Array, which: "forward" | "inverse", form: "simd" | "plain"): Float32Array {
  const memory = form === "simd" ? simdMemory : plainMemory;
  const release = memory.mark();
  const length = line.length / VALUE_FLOATS;
  const plan = fourierPlan(memory, length);
  const work = memory.float32(line.length);
  work.set(line);
  (which === "forward" ? forwardLine : inverseLine)(plan, work);
  const result = work.slice();
  release();
  return result;
}

describe.each(lengths)("four transforms of %d values at once", (length) => {
  const line = noise(length);

  it("are those of fft.js in reversed order, within 1e-6 of the largest", () => {
    const order = reversedOrder(length);
    const spectrum = transformed(line, "forward", "simd");
    for (let lane = 0; lane < 4; lane++) {
      const fft = new FFT(length);
      const expected = fft.createComplexArray();
      fft.transform(expected, sequence(line, lane));
      const largest = Math.max(...expected.map(Math.abs));
      const got = sequence(spectrum, lane);
      got.forEach((value, i) => {
        const wanted = expected[2 * order[i >> 1] + (i & 1)];
        expect(Math.abs(value - wanted)).toBeLessThan(1e-6 * largest);
      });
    }
  });

  it("and back give the values times their number", () => {
    const back = transformed(transformed(line, "forward", "simd"), "inverse", "simd");
    back.forEach((value, i) => {
      expect(Math.abs(value / length - line[i])).toBeLessThan(1e-6);
    });
  });

  it.each(["forward", "inverse"] as const)("are the same to the bit in both forms, %s", (which) => {
    // Of an even picture most of the spectrum is 0, whose sign counts here too.
    for (const values of [line, new Float32Array(line.length).fill(0.3)]) {
      const simd = transformed(values, which, "simd");
      const plain = transformed(values, which, "plain");
      expect(Buffer.from(simd.buffer).equals(Buffer.from(plain.buffer))).toBe(true);
    }
  });
});

describe("the reversed order", () => {
  it("holds each frequency once", () => {
    for (const length of lengths) {
      expect([...reversedOrder(length)].sort((a, b) => a - b)).toEqual(Array.from({ length }, (_, i) => i));
    }
  });
});
