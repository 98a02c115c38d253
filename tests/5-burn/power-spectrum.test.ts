import FFT from "fft.js";
import { describe, expect, it } from "vitest";
import { PowerSpectrum } from "../../src/5-burn/power-spectrum.js";
import { seededRandom } from "../../src/core/random.js";

/** |F|²/N by fft.js, in double precision. */
function byLibrary(values: readonly number[], columns: number, rows: number): number[] {
  const along = new FFT(columns);
  const across = new FFT(rows);
  const lines = Array.from({ length: rows }, (_, y) => {
    const line = values.slice(y * columns, (y + 1) * columns).flatMap((value) => [value, 0]);
    const out = along.createComplexArray();
    along.transform(out, line);
    return out;
  });
  const power = new Array<number>(columns * rows).fill(0);
  for (let x = 0; x < columns; x++) {
    const out = across.createComplexArray();
    across.transform(
      out,
      lines.flatMap((line) => [line[2 * x], line[2 * x + 1]]),
    );
    for (let y = 0; y < rows; y++) {
      power[y * columns + x] = (out[2 * y] ** 2 + out[2 * y + 1] ** 2) / (columns * rows);
    }
  }
  return power;
}

describe.each([
  [64, 64],
  [128, 16],
  [8, 32],
])("of %d × %d values", (columns, rows) => {
  const random = seededRandom(columns);
  const stride = columns + 3;
  const plane = Float64Array.from({ length: stride * (rows + 1) }, () => random());
  const from = stride + 2;
  const within = Array.from(
    { length: columns * rows },
    (_, i) => plane[from + Math.floor(i / columns) * stride + (i % columns)],
  );
  const spectrum = new PowerSpectrum(columns, rows);

  it("is that of fft.js, window after window", () => {
    const expected = byLibrary(
      within.map((value) => value - 0.5),
      columns,
      rows,
    );
    const most = Math.max(...expected);
    for (let again = 0; again < 2; again++) {
      const power = spectrum.of({ data: plane, from, stride }, 0.5);
      const worst = Math.max(...expected.map((value, i) => Math.abs(value - power[i])));
      expect(worst / most).toBeLessThan(1e-5);
    }
  });

  it("adds up to the sum of squares (Parseval)", () => {
    const power = spectrum.of({ data: plane, from, stride }, 0.5);
    const sum = power.reduce((total, value) => total + value, 0);
    const squares = within.reduce((total, value) => total + (value - 0.5) ** 2, 0);
    expect(Math.abs(sum / squares - 1)).toBeLessThan(1e-5);
  });
});
