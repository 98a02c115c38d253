import {
  type AccelerationUnit,
  accelerationFromMmPerS2,
  inchesFromMm,
  type SpeedUnit,
  speedFromMmPerS,
} from "./units.js";

/**
 * The units in which words show the size of a piece and the motion of a machine: those in which the user gave them. Small lengths,
 * such as spot, pitch and detail, are always in mm.
 */
export interface ShownUnits {
  readonly length: "mm" | "in";
  readonly speed: SpeedUnit;
  readonly acceleration: AccelerationUnit;
}

export const METRIC: ShownUnits = Object.freeze({ length: "mm", speed: "mm/s", acceleration: "mm/s²" });

/** A length without its unit: inches to a thousandth, mm to this number of digits after the point and below 1 mm to one more. */
export function lengthNumber(mm: number, { length }: ShownUnits, mmDigits = 1): string {
  if (length === "in") return String(Number(inchesFromMm(mm).toFixed(3)));
  return String(Number(mm < 1 ? mm.toPrecision(mmDigits + 1) : mm.toFixed(mmDigits)));
}

/** `80 mm`, `3.15 in`. */
export const lengthWords = (mm: number, units: ShownUnits, mmDigits = 1): string =>
  `${lengthNumber(mm, units, mmDigits)} ${units.length}`;

/** To a hundredth of a mm or a thousandth of an inch: `80 × 53.35 mm`. */
export function sizeWords(
  { widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number },
  units: ShownUnits,
): string {
  return `${lengthNumber(widthMm, units, 2)} × ${lengthWords(heightMm, units, 2)}`;
}

/** `300 mm/s`, `11.8 in/s`. */
export const speedWords = (mmPerS: number, units: ShownUnits): string =>
  `${speedNumber(mmPerS, units)} ${units.speed}`;

/** A speed without its unit. */
export const speedNumber = (mmPerS: number, { speed }: ShownUnits): string =>
  figure(speedFromMmPerS(mmPerS, speed));

/** `5000 mm/s²`. */
export const accelerationWords = (mmPerS2: number, { acceleration }: ShownUnits): string =>
  `${figure(accelerationFromMmPerS2(mmPerS2, acceleration))} ${acceleration}`;

/** A highest speed, rounded down: to two digits or more, and below 0.1 to three. */
export function speedLimitWords(mmPerS: number, { speed }: ShownUnits): string {
  const value = speedFromMmPerS(mmPerS, speed);
  const small = 10 ** (2 - Math.floor(Math.log10(value)));
  const steps = value >= 10 ? 1 : value >= 1 ? 10 : value >= 0.1 ? 100 : small;
  return `${Math.floor(value * steps + 1e-6) / steps} ${speed}`;
}

/** To a tenth; below 10 to three digits. */
const figure = (value: number): string =>
  String(Number(value < 10 ? value.toPrecision(3) : value.toFixed(1)));
