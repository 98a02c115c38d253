/** Figures as a person reads them. */

/** `45 s`, `12 min`, `2 h 5 min`. */
export function durationWords(seconds: number): string {
  if (seconds < 59.5) return `${Math.round(seconds)} s`;
  const minutes = seconds / 60;
  if (minutes < 9.95) return `${minutes.toFixed(1)} min`;
  const whole = Math.round(minutes);
  return whole < 90 ? `${whole} min` : `${Math.floor(whole / 60)} h ${whole % 60} min`;
}

/** Lines per inch, whole where they are as good as whole. */
export const densityWords = (linesPerInch: number): string => String(Math.round(linesPerInch * 10) / 10);

/** `10 %`, `12.5 %`. */
export const percentWords = (fraction: number): string => `${Number((100 * fraction).toPrecision(3))} %`;

/** `48 %`. */
export const wholePercent = (fraction: number): string => `${Math.round(100 * fraction)} %`;

/** Tones that can be counted on: a part of one is none. */
export const tonesWords = (tones: number): string => String(Math.floor(tones));

/** A length of three digits, in mm: `0.115 mm`. */
export const mmWords = (mm: number): string => `${Number(mm.toPrecision(3))} mm`;

/** Control and direction characters as marks: a terminal would obey them, and a name could pass for another. */
export const visible = (text: string): string => text.replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/gu, "�");
