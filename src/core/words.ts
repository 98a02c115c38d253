/** Figures for people. */

/** `45 s`, `12 min`, `2 h 5 min`. */
export function durationWords(seconds: number): string {
  if (seconds < 59.5) return `${Math.round(seconds)} s`;
  const minutes = seconds / 60;
  if (minutes < 9.95) return `${minutes.toFixed(1)} min`;
  const whole = Math.round(minutes);
  return whole < 90 ? `${whole} min` : `${Math.floor(whole / 60)} h ${whole % 60} min`;
}

/** Lines per inch, rounded to a tenth. */
export const densityWords = (linesPerInch: number): string => String(Math.round(linesPerInch * 10) / 10);

/** `10 %`, `12.5 %`. */
export const percentWords = (fraction: number): string => `${Number((100 * fraction).toPrecision(3))} %`;

/** `48 %`. */
export const wholePercent = (fraction: number): string => `${Math.round(100 * fraction)} %`;

/** A number of tones, rounded down: a part of a tone does not count. */
export const tonesWords = (tones: number): string => String(Math.floor(tones));

/** A length in mm, rounded to three digits: `0.115 mm`. */
export const mmWords = (mm: number): string => `${Number(mm.toPrecision(3))} mm`;

/** `a, b and c`. */
export const listWords = (words: readonly string[], join: "and" | "or"): string =>
  words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} ${join} ${words[words.length - 1]}`;

/** Replaces control and direction characters: a terminal would obey them, and they can disguise a name. */
export const visible = (text: string): string => text.replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/gu, "�");
