import type { Pitch } from "../../src/core/plane.js";

/** A tint of a screen as pixels of 0 and 1, and the frequencies of its pixels: straight sums, without a transform. */
export interface Tint {
  readonly pixels: Uint8Array;
  readonly sidePx: number;
  readonly pitch: Pitch;
}

const hann = (k: number, count: number): number => 0.5 - 0.5 * Math.cos((2 * Math.PI * (k + 0.5)) / count);

/** Amplitude at one frequency, in cycles per mm; 1 for a wave between 0 and 2. */
export function amplitudeAt(
  { pixels, sidePx, pitch }: Tint,
  alongPerMm: number,
  acrossPerMm: number,
): number {
  const turn = (perMm: number, pitchMm: number) => ({
    real: Float64Array.from(
      { length: sidePx },
      (_, k) => hann(k, sidePx) * Math.cos(2 * Math.PI * perMm * pitchMm * k),
    ),
    imaginary: Float64Array.from(
      { length: sidePx },
      (_, k) => hann(k, sidePx) * Math.sin(2 * Math.PI * perMm * pitchMm * k),
    ),
  });
  const x = turn(alongPerMm, pitch.alongMm);
  const y = turn(acrossPerMm, pitch.acrossMm);
  let [real, imaginary] = [0, 0];
  for (let row = 0; row < sidePx; row++) {
    let [rowReal, rowImaginary] = [0, 0];
    for (let column = 0; column < sidePx; column++) {
      const pixel = pixels[row * sidePx + column];
      rowReal += pixel * x.real[column];
      rowImaginary += pixel * x.imaginary[column];
    }
    real += rowReal * y.real[row] - rowImaginary * y.imaginary[row];
    imaginary += rowReal * y.imaginary[row] + rowImaginary * y.real[row];
  }
  return (8 * Math.hypot(real, imaginary)) / sidePx ** 2;
}

/** Ruling and angle at which a tint has most amplitude, near the asked ones: by halving a step from 4 %. */
export function rulingIn(tint: Tint, linesPerInch: number, angleDeg: number) {
  const at = (ruling: number, degrees: number): number => {
    const radians = (degrees * Math.PI) / 180;
    return amplitudeAt(tint, (ruling / 25.4) * Math.cos(radians), (ruling / 25.4) * Math.sin(radians));
  };
  let best = { linesPerInch, angleDeg, amplitude: at(linesPerInch, angleDeg) };
  for (let step = 0.01; step > 2e-4; step /= 2) {
    for (const [away, turned] of [
      [1, 0],
      [-1, 0],
      [0, 1],
      [0, -1],
    ]) {
      const ruling = best.linesPerInch * (1 + away * step);
      const degrees = best.angleDeg + (turned * step * 180) / Math.PI;
      const amplitude = at(ruling, degrees);
      if (amplitude > best.amplitude) best = { linesPerInch: ruling, angleDeg: degrees, amplitude };
    }
  }
  return best;
}
