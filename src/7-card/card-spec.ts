/** What decides every pixel of a card, and what its reader must know of how it was burned. */
export interface CardSpec {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly linesPerInch: number;
  readonly linesPerInchAlong: number;
  /** Power levels, 2..256. */
  readonly levels: number;
  /** Scatters the patches in another order. */
  readonly seed: number;
  /** True if every line is burned in the same direction. */
  readonly oneWay: boolean;
  /** Absent if nobody gave it. */
  readonly speedMmPerS?: number;
  /** True for a check card, which shows tones instead of patterns. */
  readonly isCheck?: boolean;
  /** Dose of a solid patch over that of another card, to which this one is a sequel. Absent if nobody gave it. */
  readonly doseFactor?: number;
}

/** It changes with any change of what a card of the same figures looks like. */
export const CARD_VERSION = 1;

/**
 * The text of the code on a card: `SPOTPITCH1 W80 H60 D1016 L2 S1 V300`. Only capitals, digits, points and spaces, which a code
 * stores in less room than other characters. Figures are rounded as they are written, so a card must be made from what is read back.
 */
export function codeText(spec: CardSpec): string {
  const {
    widthMm,
    heightMm,
    linesPerInch,
    linesPerInchAlong,
    levels,
    seed,
    oneWay,
    speedMmPerS,
    doseFactor,
  } = spec;
  const density = decimal(linesPerInch, 4);
  const along = decimal(linesPerInchAlong, 4);
  return [
    `SPOTPITCH${CARD_VERSION}`,
    `W${decimal(widthMm, 2)}`,
    `H${decimal(heightMm, 2)}`,
    `D${density}`,
    ...(along === density ? [] : [`A${along}`]),
    `L${levels}`,
    `S${seed}`,
    ...(speedMmPerS === undefined ? [] : [`V${decimal(speedMmPerS, 3)}`]),
    ...(doseFactor === undefined ? [] : [`X${decimal(doseFactor, 3)}`]),
    ...(oneWay ? ["O"] : []),
    ...(spec.isCheck ? ["C"] : []),
  ].join(" ");
}

const NUMBER = "(\\d+(?:\\.\\d+)?)";
const CODE = new RegExp(
  `^SPOTPITCH${CARD_VERSION} W${NUMBER} H${NUMBER} D${NUMBER}(?: A${NUMBER})? L(\\d+) S(\\d+)(?: V${NUMBER})?(?: X${NUMBER})?( O)?( C)?$`,
);

/** The reverse; undefined for any other text, the code of another version among them. */
export function specOfCode(text: string): CardSpec | undefined {
  const match = CODE.exec(text);
  if (!match) return undefined;
  const [, width, height, density, along = density, levels, seed, speed, dose, oneWay, check] = match;
  return {
    widthMm: Number(width),
    heightMm: Number(height),
    linesPerInch: Number(density),
    linesPerInchAlong: Number(along),
    levels: Number(levels),
    seed: Number(seed),
    oneWay: oneWay !== undefined,
    ...(speed !== undefined && { speedMmPerS: Number(speed) }),
    ...(dose !== undefined && { doseFactor: Number(dose) }),
    ...(check !== undefined && { isCheck: true }),
  };
}

/** Without an exponent, and without zeros at the end. */
const decimal = (value: number, digits: number): string => String(Number(value.toFixed(digits)));
