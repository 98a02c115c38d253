import { sigmaMmFromSpotDiameterMm } from "../core/units.js";
import type { LitStretch } from "./lit-stretches.js";

/** Harmonics weaker than this share of the mean are left out. */
const LEAST_HARMONIC = 1e-10;

/** A line that repeats every `periodMm`, and the places of one period at which its dose is asked: the midpoints of equal parts. */
export interface RepeatingLine {
  readonly lit: readonly LitStretch[];
  readonly periodMm: number;
  readonly places: number;
}

/** How the beam blurs a line along itself. */
export interface AlongBlur {
  readonly alongMm: number;
  readonly lagMm: number;
}

/**
 * Dose along a line by itself, 1 under a beam that stays on. The line repeats, so it is a Fourier series: that of the source's power,
 * times what the Gaussian spot and the first-order lag leave of each harmonic. The spot leaves nothing of high harmonics, so the sum
 * is short and exact.
 *
 * @param shiftMm of the line's places, in the direction of travel
 */
export function lineDose(line: RepeatingLine, blur: AlongBlur, shiftMm = 0): Float64Array {
  const { lit, periodMm, places } = line;
  const mean = lit.reduce((sum, { fromMm, toMm, power }) => sum + ((toMm - fromMm) * power) / periodMm, 0);
  const dose = new Float64Array(places).fill(mean);
  const sigmaMm = sigmaMmFromSpotDiameterMm(blur.alongMm);
  const highest = (Math.sqrt(-2 * Math.log(LEAST_HARMONIC)) * periodMm) / (2 * Math.PI * sigmaMm);
  for (let n = 1; n <= highest && lit.length > 0; n++) {
    const perMm = (2 * Math.PI * n) / periodMm;
    const { cosine, sine } = lagged(powerHarmonic(lit, perMm, periodMm), perMm * blur.lagMm);
    const left = Math.exp(-((perMm * sigmaMm) ** 2) / 2);
    addWave(dose, { cosine: left * cosine, sine: left * sine }, (2 * Math.PI * n) / places, perMm * shiftMm);
  }
  // Rounding of the sum must not leave a dose below 0.
  for (let i = 0; i < places; i++) dose[i] = Math.max(0, dose[i]);
  return dose;
}

/** Adds a harmonic at the midpoints of equal parts. From one to the next its phase turns by the same angle. */
function addWave(dose: Float64Array, { cosine, sine }: Harmonic, turn: number, shift: number): void {
  const [turnCosine, turnSine] = [Math.cos(turn), Math.sin(turn)];
  let [c, s] = [Math.cos(turn / 2 + shift), Math.sin(turn / 2 + shift)];
  for (let i = 0; i < dose.length; i++) {
    dose[i] += cosine * c + sine * s;
    [c, s] = [c * turnCosine - s * turnSine, s * turnCosine + c * turnSine];
  }
}

interface Harmonic {
  readonly cosine: number;
  readonly sine: number;
}

/** Amplitudes of one harmonic of the source's power: each stretch is a box. */
function powerHarmonic(lit: readonly LitStretch[], perMm: number, periodMm: number): Harmonic {
  let [cosine, sine] = [0, 0];
  for (const { fromMm, toMm, power } of lit) {
    cosine += power * (Math.sin(perMm * toMm) - Math.sin(perMm * fromMm));
    sine += power * (Math.cos(perMm * fromMm) - Math.cos(perMm * toMm));
  }
  const scale = 2 / (perMm * periodMm);
  return { cosine: cosine * scale, sine: sine * scale };
}

/** The same after a first-order lag: weaker by √(1 + w²), later by atan w. */
function lagged({ cosine, sine }: Harmonic, w: number): Harmonic {
  const scale = 1 / (1 + w * w);
  return { cosine: (cosine - w * sine) * scale, sine: (sine + w * cosine) * scale };
}
