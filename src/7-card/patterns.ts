import type { CardPattern } from "../core/card-pattern.js";
import { modulo } from "../core/modulo.js";
import type { PatternTile } from "../core/pattern-tile.js";

/** Size of a tile, and whether a pixel of it burns. */
interface TileRule {
  readonly columns: number;
  readonly rows: number;
  readonly burns: (x: number, y: number) => boolean;
}

/**
 * The tile of a pattern. What burns, burns at full power, except a fill at a level.
 *
 * @param levels power levels of the card, 2..256
 */
export function patternTile(pattern: CardPattern, levels: number): PatternTile {
  if (pattern.kind === "fill") return { columns: 1, rows: 1, codes: Uint8Array.of(pattern.level) };
  const { columns, rows, burns } = ruleOf(pattern);
  const codes = Uint8Array.from({ length: columns * rows }, (_, i) =>
    burns(i % columns, Math.floor(i / columns)) ? levels - 1 : 0,
  );
  return { columns, rows, codes };
}

function ruleOf(pattern: Exclude<CardPattern, { kind: "fill" }>): TileRule {
  switch (pattern.kind) {
    case "bare":
      return { columns: 1, rows: 1, burns: () => false };
    case "solid":
      return { columns: 1, rows: 1, burns: () => true };
    case "lines":
      return { columns: 1, rows: pattern.period, burns: (_, y) => y < pattern.on };
    case "dashes":
      return dashRule(pattern);
    case "dots":
      return squareRule(pattern.period, (x, y) => x < pattern.side && y < pattern.side);
    case "holes":
      return squareRule(pattern.period, (x, y) => x >= pattern.side || y >= pattern.side);
    case "checks":
      return squareRule(2 * pattern.side, (x, y) => x < pattern.side === y < pattern.side);
    case "vernier":
      return vernierRule(pattern);
  }
}

const squareRule = (period: number, burns: TileRule["burns"]): TileRule => ({
  columns: period,
  rows: period,
  burns,
});

function dashRule({ on, off, step, linePeriod }: Extract<CardPattern, { kind: "dashes" }>): TileRule {
  const columns = on + off;
  return {
    columns,
    // Displaced so many times, a line is the first one again.
    rows: (linePeriod * columns) / greatestDivisor(columns, step),
    burns: (x, y) => y % linePeriod === 0 && modulo(x - (step * y) / linePeriod, columns) < on,
  };
}

const vernierRule = ({ on, off, shift }: Extract<CardPattern, { kind: "vernier" }>): TileRule => ({
  columns: on + off,
  rows: 2,
  burns: (x, y) => modulo(x - shift * y, on + off) < on,
});

/** Greatest common divisor of two whole numbers; of a and 0 it is a. */
const greatestDivisor = (a: number, b: number): number => (b === 0 ? a : greatestDivisor(b, a % b));

/** Mean power of a tile, 0..1. */
export const burnFractionOf = ({ codes }: PatternTile, levels: number): number =>
  codes.reduce((sum, code) => sum + code, 0) / (codes.length * (levels - 1));

/** A name for files, such as `lines-1-of-3`. Different patterns have different names. */
export function patternName(pattern: CardPattern): string {
  switch (pattern.kind) {
    case "bare":
    case "solid":
      return pattern.kind;
    case "lines":
      return `lines-${pattern.on}-of-${pattern.period}`;
    case "dashes": {
      const { on, off, step, linePeriod } = pattern;
      const every = linePeriod === 1 ? "" : `-every-${linePeriod}`;
      return `dashes-${on}-${off}${step === 0 ? "" : `-step-${step}`}${every}`;
    }
    case "dots":
    case "holes":
      return `${pattern.kind}-${pattern.side}-in-${pattern.period}`;
    case "checks":
      return `checks-${pattern.side}`;
    case "vernier":
      return `vernier-${pattern.on}-${pattern.off}-${pattern.shift < 0 ? "back" : "by"}-${Math.abs(pattern.shift)}`;
    case "fill":
      return `fill-${pattern.level}`;
  }
}
