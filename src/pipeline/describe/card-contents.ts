import { type CardContents, type CardGroup, cardGroupNames, type ShownPattern } from "../../6-report/card.js";
import { cardGroupOf } from "../../6-report/words/card-words.js";
import { codeText } from "../../7-card/card-spec.js";
import { cardPatterns } from "../../7-card/catalogue.js";
import type { CardLayout } from "../../7-card/layout.js";
import { burnFractionOf, patternName, patternTile } from "../../7-card/patterns.js";
import type { CardPattern } from "../../core/card-pattern.js";
import type { PatternTile } from "../../core/pattern-tile.js";

/** What is on a card, in figures. */
export function cardContents(layout: CardLayout, burnFraction: number): CardContents {
  const { grid, spec, code, codeArea, patterns, patches } = layout;
  const counts = countsOf(layout);
  const repeats = patterns.map((pattern) => counts.get(pattern) ?? 0);
  const ofKind = (kind: string): number => patches.filter(({ pattern }) => pattern.kind === kind).length;
  return {
    patches: patches.length,
    patchMm: patches[0].area.columns * grid.pitch.alongMm,
    patterns: patterns.length,
    leftOut: cardPatterns(spec.levels).length - patterns.length,
    repeats: Math.min(...repeats),
    bareReferences: ofKind("bare"),
    solidReferences: ofKind("solid"),
    code: codeText(spec),
    moduleMm: (codeArea.columns * grid.pitch.alongMm) / code.side,
    burnFraction,
  };
}

/** The patterns of a card by what they tell, numbered from 1. */
export function cardGroups(layout: CardLayout): CardGroup[] {
  const { levels } = layout.spec;
  const counts = countsOf(layout);
  let number = 0;
  const shown = (pattern: CardPattern): ShownPattern => {
    const tile = patternTile(pattern, levels);
    number++;
    return {
      ...{ number, name: patternName(pattern), pattern, tile: rowTexts(tile) },
      burnFraction: burnFractionOf(tile, levels),
      patches: counts.get(pattern) ?? 0,
    };
  };
  return cardGroupNames
    .map((name) => ({
      name,
      patterns: layout.patterns
        .filter((pattern) => cardGroupOf(pattern) === name)
        .sort(byFigures)
        .map(shown),
    }))
    .filter(({ patterns }) => patterns.length > 0);
}

/** Patterns of one group from fine to coarse; a vernier from its largest shift back to that on. */
function byFigures(a: CardPattern, b: CardPattern): number {
  const [ofA, ofB] = [figuresOf(a), figuresOf(b)];
  const differs = ofA.findIndex((figure, k) => figure !== ofB[k]);
  return differs < 0 ? 0 : ofA[differs] - ofB[differs];
}

function figuresOf(pattern: CardPattern): readonly number[] {
  switch (pattern.kind) {
    case "lines":
      return [pattern.period, pattern.on];
    case "dashes":
      return [pattern.linePeriod, pattern.on + pattern.off, pattern.on, pattern.step];
    case "dots":
    case "holes":
      return [pattern.side, pattern.period];
    case "checks":
      return [pattern.side];
    case "vernier":
      return [pattern.on + pattern.off, pattern.on, pattern.shift];
    case "fill":
      return [pattern.level];
    default:
      return [];
  }
}

const rowTexts = ({ columns, rows, codes }: PatternTile): string[] =>
  Array.from({ length: rows }, (_, y) =>
    codes
      .subarray(y * columns, (y + 1) * columns)
      .map((code) => Math.min(1, code))
      .join(""),
  );

/** Number of patches of each pattern. */
function countsOf({ patches }: CardLayout): Map<CardPattern, number> {
  const counts = new Map<CardPattern, number>();
  for (const { pattern } of patches) counts.set(pattern, (counts.get(pattern) ?? 0) + 1);
  return counts;
}
