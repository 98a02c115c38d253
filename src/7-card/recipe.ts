import * as z from "zod";
import type { CardPattern } from "../core/card-pattern.js";
import { type CardGrid, mmOf } from "./card-grid.js";
import { CARD_VERSION, codeText } from "./card-spec.js";
import { BARE, SOLID } from "./catalogue.js";
import type { CardLayout, Patch } from "./layout.js";
import { bareInside, type Corner, cornerShapes, cornersOf, FRAME_MM } from "./marks.js";
import { burnFractionOf, patternName, patternTile } from "./patterns.js";

const mm = z.number().nonnegative();
const count = z.int().positive();
const place = z.strictObject({ leftMm: mm, topMm: mm, widthMm: mm, heightMm: mm });

const pattern = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.enum(["bare", "solid"]) }),
  z.strictObject({ kind: z.literal("lines"), on: count, period: count }),
  z.strictObject({
    kind: z.literal("dashes"),
    ...{ on: count, off: count, step: z.int().nonnegative(), linePeriod: count },
  }),
  z.strictObject({ kind: z.enum(["dots", "holes"]), side: count, period: count }),
  z.strictObject({ kind: z.literal("checks"), side: count }),
  z.strictObject({ kind: z.literal("vernier"), on: count, off: count, shift: z.int() }),
  z.strictObject({ kind: z.literal("fill"), level: count }),
]);

/** What every recipe says: the bitmap, what locates the card in a picture, and its code. */
const headShape = {
  version: z.literal(CARD_VERSION),
  code: z.string().min(1),
  ...{ widthMm: mm, heightMm: mm, columns: count, rows: count, pitchAlongMm: mm, pitchAcrossMm: mm },
  ...{ linesPerInch: z.number().positive(), levels: z.int().min(2).max(256), seed: z.int().nonnegative() },
  oneWay: z.boolean(),
  speedMmPerS: z.number().nonnegative().optional(),
  doseFactor: z.number().positive().optional(),
  frameMm: mm,
  /** Clockwise from the upper left one. */
  corners: z.array(z.strictObject({ shape: z.enum(cornerShapes), place, bare: place.optional() })).length(4),
  /** Without its bare border. */
  codePlace: place,
};

/** A patch on a card of any kind, and the name of what it shows. */
const patchShape = { id: z.string(), pattern: z.string(), repeat: count, ...place.shape };

/** The part of a recipe that a test card and a check card share. */
const markedCardSchema = z.object({ ...headShape, patches: z.array(z.strictObject(patchShape)) });

/** A card as its reader sees it: where its marks and its patches are. */
export type MarkedCard = z.output<typeof markedCardSchema>;

/**
 * A card's recipe, `card.json`: what is where. All of it follows from `code`, the text that is also on the card. Lengths are in
 * mm from the upper left corner of the bitmap; they are whole pixels.
 */
export const cardRecipeSchema = z.strictObject({
  ...headShape,
  patterns: z.record(
    z.string(),
    z.strictObject({
      pattern,
      burnFraction: z.number().min(0).max(1),
      /** A row of the tile in each text: 0 and 1, or power levels between points. */
      tile: z.array(z.string()).min(1),
    }),
  ),
  patches: z.array(z.strictObject(patchShape)),
});

/** What is where on a card: `card.json`. */
export type CardRecipe = z.output<typeof cardRecipeSchema>;

/** The recipe of a card. */
export function cardRecipe(layout: CardLayout): CardRecipe {
  const { grid, spec, patches } = layout;
  const { pitch } = grid;
  const inMm = (patch: Patch) => ({
    ...{ id: patch.id, pattern: patternName(patch.pattern), repeat: patch.repeat },
    ...mmOf(patch.area, pitch),
  });
  const shown = [BARE, SOLID, ...layout.patterns];
  return {
    ...recipeHead(layout),
    patterns: Object.fromEntries(shown.map((each) => [patternName(each), patternRecipe(each, spec.levels)])),
    patches: patches.map(inMm),
  };
}

type MarkedLayout = Pick<CardLayout, "grid" | "spec" | "codeArea">;

/** The part of a recipe that tells the bitmap and its marks. */
export function recipeHead({ grid, spec, codeArea }: MarkedLayout): Omit<MarkedCard, "patches"> {
  const { columns, rows, pitch } = grid;
  return {
    version: CARD_VERSION,
    code: codeText(spec),
    ...{ widthMm: columns * pitch.alongMm, heightMm: rows * pitch.acrossMm, columns, rows },
    ...{ pitchAlongMm: pitch.alongMm, pitchAcrossMm: pitch.acrossMm, linesPerInch: spec.linesPerInch },
    ...{ levels: spec.levels, seed: spec.seed, oneWay: spec.oneWay },
    ...(spec.speedMmPerS !== undefined && { speedMmPerS: spec.speedMmPerS }),
    ...(spec.doseFactor !== undefined && { doseFactor: spec.doseFactor }),
    frameMm: FRAME_MM,
    corners: cornersOf(grid).map((corner) => cornerRecipe(corner, grid)),
    codePlace: mmOf(codeArea, pitch),
  };
}

function cornerRecipe(corner: Corner, grid: CardGrid) {
  const bare = bareInside(corner, grid);
  return {
    ...{ shape: corner.shape, place: mmOf(corner.area, grid.pitch) },
    ...(bare && { bare: mmOf(bare, grid.pitch) }),
  };
}

function patternRecipe(each: CardPattern, levels: number) {
  const tile = patternTile(each, levels);
  const { columns, rows, codes } = tile;
  const rowText = (y: number): string =>
    codes.subarray(y * columns, (y + 1) * columns).join(levels === 2 ? "" : ".");
  return {
    pattern: each,
    burnFraction: burnFractionOf(tile, levels),
    tile: Array.from({ length: rows }, (_, y) => rowText(y)),
  };
}

/** Digits after the point of a mm or a share: a nanometre, so that a recipe is exact and short. */
const DIGITS = 6;

/** The text of a recipe's file: a patch on each line. */
export function recipeText({ patterns, patches, ...head }: CardRecipe): string {
  const named = Object.entries(patterns).map(([name, each]) => `    ${shortJson(name)}: ${shortJson(each)}`);
  return [
    "{",
    ...headLines(head),
    `  "patterns": {\n${named.join(",\n")}\n  },`,
    `  "patches": ${listText(patches)}`,
    "}\n",
  ].join("\n");
}

/** A line for each key of the head of a recipe. */
export const headLines = (head: object): string[] =>
  Object.entries(head).map(([key, value]) => `  ${shortJson(key)}: ${shortJson(value)},`);

/** A list with an entry on each line. */
export const listText = (entries: readonly object[]): string =>
  `[\n${entries.map((each) => `    ${shortJson(each)}`).join(",\n")}\n  ]`;

const shortJson = (value: unknown): string => JSON.stringify(value, rounded);

const rounded = (_key: string, value: unknown): unknown =>
  typeof value === "number" ? Number(value.toFixed(DIGITS)) : value;
