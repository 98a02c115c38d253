import { describe, expect, it } from "vitest";
import { baseLightness, guidedBase } from "../../src/2-tone/guided-base.js";
import { seededRandom } from "../../src/core/random.js";

const columns = 60;
const rows = 40;
const RADIUS_PX = 2; // 4 % of the longer side, rounded

/** He, Sun and Tang 2013, equations 5, 6 and 8, by direct sums, with the picture as its own guide and ε = 8². */
function bruteForce(picture: Float32Array, closed: boolean, weight: (i: number) => number): number[] {
  const windowOf = (i: number): number[] => {
    const [x, y] = [i % columns, Math.floor(i / columns)];
    const places: number[] = [];
    for (let dy = -RADIUS_PX; dy <= RADIUS_PX; dy++) {
      for (let dx = -RADIUS_PX; dx <= RADIUS_PX; dx++) {
        const row = Math.min(rows - 1, Math.max(0, y + dy));
        const column = closed ? (x + dx + columns) % columns : Math.min(columns - 1, Math.max(0, x + dx));
        places.push(row * columns + column);
      }
    }
    return places;
  };
  const mean = (places: number[], of: (i: number) => number): number => {
    const total = places.reduce((sum, i) => sum + weight(i), 0);
    return places.reduce((sum, i) => sum + weight(i) * of(i), 0) / total;
  };
  const windows = Array.from(picture, (_, i) => windowOf(i));
  const fits = windows.map((places) => {
    const m = mean(places, (i) => picture[i]);
    const variance = mean(places, (i) => (picture[i] - m) ** 2);
    const a = variance / (variance + 64);
    return { a, b: m - a * m };
  });
  return windows.map((places, i) => {
    return mean(places, (k) => fits[k].a) * picture[i] + mean(places, (k) => fits[k].b);
  });
}

describe("the base of a picture", () => {
  const random = seededRandom(1);
  const noise = Float32Array.from({ length: columns * rows }, (_, i) =>
    i % columns < 25 ? 15 + 12 * random() : 70 + 25 * random(),
  );
  const worst = (a: ArrayLike<number>, b: ArrayLike<number>) =>
    Array.from(a).reduce((most, value, i) => Math.max(most, Math.abs(value - b[i])), 0);

  it.each([false, true])("is that of the guided filter, by direct sums; closed: %s", (closed) => {
    const base = baseLightness(guidedBase(noise, { columns, rows, closed }), noise);
    expect(
      worst(
        base,
        bruteForce(noise, closed, () => 1),
      ),
    ).toBeLessThan(0.01);
  });

  it("counts pixels by their coverage", () => {
    const coverage = Float32Array.from(noise, (_, i) => [1, 0.3, 0.7][i % 3]);
    const base = baseLightness(guidedBase(noise, { columns, rows, closed: false }, coverage), noise);
    expect(
      worst(
        base,
        bruteForce(noise, false, (i) => coverage[i]),
      ),
    ).toBeLessThan(0.01);
  });

  it("does not depend on what is behind transparent parts", () => {
    const coverage = Float32Array.from(noise, (_, i) => (i % columns < 25 ? 1 : 0));
    const [white, black] = [100, 0].map((behind) => {
      const picture = noise.map((value, i) => (coverage[i] === 1 ? value : behind));
      return baseLightness(guidedBase(picture, { columns, rows, closed: false }, coverage), picture);
    });
    for (let i = 0; i < white.length; i++) {
      if (coverage[i] === 1) expect(Math.abs(white[i] - black[i])).toBeLessThan(0.01);
    }
  });

  it("of an even picture is the picture", () => {
    const even = new Float32Array(columns * rows).fill(37);
    expect(worst(baseLightness(guidedBase(even, { columns, rows, closed: false }), even), even)).toBeLessThan(
      1e-4,
    );
  });
});
