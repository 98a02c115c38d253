import * as z from "zod";
import type { CardPattern } from "../core/card-pattern.js";
import { mmOf } from "./card-grid.js";
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

/**
 * A card's recipe, `card.json`: what is where. All of it follows from `code`, the text that is also on the card. Lengths are in
 * mm from the upper left corner of the bitmap; they are whole pixels.
 */
export const cardRecipeSchema = z.strictObject({
  version: z.literal(CARD_VERSION),
  code: z.string().min(1),
  ...{ widthMm: mm, heightMm: mm, columns: count, rows: count, pitchAlongMm: mm, pitchAcrossMm: mm },
  ...{ linesPerInch: z.number().positive(), levels: z.int().min(2).max(256), seed: z.int().nonnegative() },
  oneWay: z.boolean(),
  speedMmPerS: z.number().nonnegative().optional(),
  frameMm: mm,
  /** Clockwise from the upper left one. */
  corners: z.array(z.strictObject({ shape: z.enum(cornerShapes), place, bare: place.optional() })).length(4),
  /** Without its bare border. */
  codePlace: place,
  patterns: z.record(
    z.string(),
    z.strictObject({
      pattern,
      burnFraction: z.number().min(0).max(1),
      /** A row of the tile in each text: 0 and 1, or power levels between points. */
      tile: z.array(z.string()).min(1),
    }),
  ),
  patches: z.array(z.strictObject({ id: z.string(), pattern: z.string(), repeat: count, ...place.shape })),
});

/** What is where on a card: `card.json`. */
export type CardRecipe = z.output<typeof cardRecipeSchema>;

/** The recipe of a card. */
export function cardRecipe(layout: CardLayout): CardRecipe {
  const { grid, spec, patches } = layout;
  const { columns, rows, pitch } = grid;
  const inMm = (patch: Patch) => ({
    ...{ id: patch.id, pattern: patternName(patch.pattern), repeat: patch.repeat },
    ...mmOf(patch.area, pitch),
  });
  const shown = [BARE, SOLID, ...layout.patterns];
  return {
    version: CARD_VERSION,
    code: codeText(spec),
    ...{ widthMm: columns * pitch.alongMm, heightMm: rows * pitch.acrossMm, columns, rows },
    ...{ pitchAlongMm: pitch.alongMm, pitchAcrossMm: pitch.acrossMm, linesPerInch: spec.linesPerInch },
    ...{ levels: spec.levels, seed: spec.seed, oneWay: spec.oneWay },
    ...(spec.speedMmPerS !== undefined && { speedMmPerS: spec.speedMmPerS }),
    frameMm: FRAME_MM,
    corners: cornersOf(grid).map((corner) => cornerRecipe(corner, layout)),
    codePlace: mmOf(layout.codeArea, pitch),
    patterns: Object.fromEntries(shown.map((each) => [patternName(each), patternRecipe(each, spec.levels)])),
    patches: patches.map(inMm),
  };
}

function cornerRecipe(corner: Corner, { grid }: CardLayout) {
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
export function recipeText(recipe: CardRecipe): string {
  const { patterns, patches, ...head } = recipe;
  const short = (value: unknown): string => JSON.stringify(value, rounded);
  const body = Object.entries(head).map(([key, value]) => `  ${short(key)}: ${short(value)},`);
  const named = Object.entries(patterns).map(([name, each]) => `    ${short(name)}: ${short(each)}`);
  return [
    "{",
    ...body,
    `  "patterns": {\n${named.join(",\n")}\n  },`,
    `  "patches": [\n${patches.map((patch) => `    ${short(patch)}`).join(",\n")}\n  ]`,
    "}\n",
  ].join("\n");
}

const rounded = (_key: string, value: unknown): unknown =>
  typeof value === "number" ? Number(value.toFixed(DIGITS)) : value;
