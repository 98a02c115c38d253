import type { CardPattern } from "../core/card-pattern.js";
import type { PixelRectangle } from "../core/pixel-rectangle.js";
import { type Random, seededRandom } from "../core/random.js";
import { refusal } from "../core/refusals/refusals.js";
import { type CodeModules, codeModules, QUIET_MODULES } from "./card-code.js";
import { type CardGrid, cardGrid } from "./card-grid.js";
import { type CardSpec, codeText } from "./card-spec.js";
import { BARE, cardPatterns, SOLID } from "./catalogue.js";
import { type Cell, type Cells, LARGEST_PATCH_MM, layCells } from "./cells.js";

/** A patch: one pattern at one place. */
export interface Patch {
  /** Its place as on a chessboard: column in letters, row in digits. `c7`. */
  readonly id: string;
  readonly pattern: CardPattern;
  /** Which of the patches of its pattern it is, from 1. */
  readonly repeat: number;
  /** Starts on an even line. */
  readonly area: PixelRectangle;
}

/** A card, before it is drawn. */
export interface CardLayout {
  readonly spec: CardSpec;
  readonly grid: CardGrid;
  readonly code: CodeModules;
  /** The pixels of the code without its bare border. */
  readonly codeArea: PixelRectangle;
  /** The patterns that are on it; those with a repeat less come last. */
  readonly patterns: readonly CardPattern[];
  readonly patches: readonly Patch[];
}

/** Repeats of each pattern that a card of the usual size has. */
const WANTED_REPEATS = 4;
/** Without a repeat nobody knows how far to trust a patch. */
const LEAST_REPEATS = 2;
/** Fewer patterns do not tell spot and response apart. */
const LEAST_PATTERNS = 30;
/** Every third place of every third column is a reference, bare and solid in turn. */
const REFERENCE_STEP = 3;
/** One period of the longest patterns along. */
const LEAST_PATCH_PX = 24;
const MODULE_MM = 0.5;

/**
 * Where everything lies on a card. Throws `OPTION_CONFLICT` for a density that is too coarse for the patches, and for a
 * card that is too small for them.
 */
export function cardLayout(spec: CardSpec): CardLayout {
  const grid = cardGrid(spec);
  const code = codeModules(codeText(spec));
  const all = cardPatterns(spec.levels);
  const enough = (WANTED_REPEATS * all.length * REFERENCE_STEP ** 2) / (REFERENCE_STEP ** 2 - 1);
  const cells = layCells(spec, { codeMm: leastCodeMm(code, grid), patchMm: leastPatchMm(grid), enough });
  const free = cells?.cells.filter((cell) => !isReference(cell)) ?? [];
  if (!cells || free.length < LEAST_REPEATS * LEAST_PATTERNS) throw refusal("card-too-small", {});
  const patterns = all.slice(0, Math.floor(free.length / LEAST_REPEATS));
  return {
    ...{ spec, grid, code, patterns },
    codeArea: codeAreaOf(cells, code, grid),
    patches: placed(cells, scattered(patterns, free.length, seededRandom(spec.seed)), grid),
  };
}

/** Side of a patch that holds enough pixels both ways. Throws `OPTION_CONFLICT` if none is so large. */
function leastPatchMm({ pitch }: CardGrid): number {
  const largestMm = LARGEST_PATCH_MM / LEAST_PATCH_PX;
  for (const [option, pitchMm] of [
    ["linesPerInch", pitch.acrossMm],
    ["linesPerInchAlong", pitch.alongMm],
  ] as const) {
    if (pitchMm <= largestMm) continue;
    throw refusal("card-too-coarse", { option, patchMm: LARGEST_PATCH_MM, pitchMm, largestMm });
  }
  return LEAST_PATCH_PX * Math.max(pitch.alongMm, pitch.acrossMm);
}

const modulePxOf = (pitchMm: number): number => Math.ceil(MODULE_MM / pitchMm - 1e-9);

/** Least side of the code with its bare border. */
export function leastCodeMm({ side }: CodeModules, { pitch }: CardGrid): number {
  const moduleMm = Math.max(
    modulePxOf(pitch.alongMm) * pitch.alongMm,
    modulePxOf(pitch.acrossMm) * pitch.acrossMm,
  );
  return (side + 2 * QUIET_MODULES) * moduleMm;
}

/** The code in the middle of its part, with modules as large as fit. */
export function codeAreaOf(
  { codeArea }: Pick<Cells, "codeArea">,
  { side }: CodeModules,
  { pitch }: CardGrid,
): PixelRectangle {
  const { leftMm, topMm, sideMm } = codeArea;
  const moduleMm = sideMm / (side + 2 * QUIET_MODULES);
  const columns = side * Math.max(modulePxOf(pitch.alongMm), Math.floor(moduleMm / pitch.alongMm));
  const rows = side * Math.max(modulePxOf(pitch.acrossMm), Math.floor(moduleMm / pitch.acrossMm));
  return {
    left: Math.round((leftMm + sideMm / 2) / pitch.alongMm - columns / 2),
    top: Math.round((topMm + sideMm / 2) / pitch.acrossMm - rows / 2),
    ...{ columns, rows },
  };
}

const isReference = ({ column, row }: Cell): boolean =>
  column % REFERENCE_STEP === 1 && row % REFERENCE_STEP === 1;

/** Bare and solid in turn, as on a chessboard. */
const referenceAt = ({ column, row }: Cell): CardPattern =>
  ((column + row - 2) / REFERENCE_STEP) % 2 === 0 ? SOLID : BARE;

/**
 * Patterns for so many places: all of them in a random order, then all in another one, and so on. Places follow column by column,
 * so the repeats of a pattern lie in different parts of the card. In the last round, which may be short, the first patterns of the
 * list have one more repeat.
 */
function scattered(patterns: readonly CardPattern[], count: number, random: Random): CardPattern[] {
  const order: CardPattern[] = [];
  while (order.length < count) {
    order.push(...shuffled(patterns.slice(0, count - order.length), random));
  }
  return order;
}

/** Fisher and Yates's shuffle. */
function shuffled<One>(list: readonly One[], random: Random): One[] {
  const order = [...list];
  for (let last = order.length - 1; last > 0; last--) {
    const k = Math.floor(random() * (last + 1));
    [order[last], order[k]] = [order[k], order[last]];
  }
  return order;
}

function placed({ cells, patchMm }: Cells, order: readonly CardPattern[], { pitch }: CardGrid): Patch[] {
  const size = {
    columns: Math.floor(patchMm / pitch.alongMm + 1e-9),
    rows: Math.floor(patchMm / pitch.acrossMm + 1e-9),
  };
  const repeats = new Map<CardPattern, number>();
  let next = 0;
  return cells.map((cell) => {
    const pattern = isReference(cell) ? referenceAt(cell) : order[next++];
    const repeat = (repeats.get(pattern) ?? 0) + 1;
    repeats.set(pattern, repeat);
    const left = Math.round(cell.leftMm / pitch.alongMm);
    const top = 2 * Math.round(cell.topMm / pitch.acrossMm / 2);
    return { id: cellName(cell), pattern, repeat, area: { left, top, ...size } };
  });
}

/** A place as on a chessboard: `c7`. */
export const cellName = ({ column, row }: Pick<Cell, "column" | "row">): string =>
  `${letters(column)}${row + 1}`;

/** 0 → a, 25 → z, 26 → aa. */
function letters(column: number): string {
  const last = String.fromCharCode(97 + (column % 26));
  return column < 26 ? last : letters(Math.floor(column / 26) - 1) + last;
}
