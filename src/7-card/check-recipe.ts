import * as z from "zod";
import { mmOf } from "./card-grid.js";
import type { CheckLayout, CheckPatch } from "./check-layout.js";
import { headLines, listText, type MarkedCard, recipeHead } from "./recipe.js";

const luminance = z.number().min(0).max(1);

/** A step of the wedge, or the solid references, as they should come out. */
const stepSchema = z.object({
  /** `tone-1` … or `solid`. */
  name: z.string(),
  /** Luminance factor that was asked for. */
  wanted: luminance,
  /** Predicted from the bitmap, at each of `doses`. */
  predicted: z.array(luminance).min(3),
});

/** What the card.json of a check card adds to where everything lies: what the tones should be. */
const promiseSchema = z.object({
  code: z.string(),
  material: z.string(),
  /** Luminance factor of the bare surface, against which all others are measured. */
  bareLuminance: luminance.positive(),
  method: z.string(),
  linesPerInch: z.number().positive(),
  /** Doses over the nominal one, rising, with 1 among them. */
  doses: z.array(z.number().positive()).min(3),
  steps: z.array(stepSchema).min(1),
});

/** What a check card promises: the tones that its material file and machine file predict. */
export type CheckPromise = z.output<typeof promiseSchema>;

/** Where everything lies on a check card, and what its tones should be: `card.json`. */
export interface CheckRecipe extends MarkedCard, CheckPromise {
  readonly photo: {
    readonly leftMm: number;
    readonly topMm: number;
    readonly widthMm: number;
    readonly heightMm: number;
  };
}

/** The promise in the content of a card.json; undefined if it is not that of a check card. */
export function promiseOf(content: unknown): CheckPromise | undefined {
  const parsed = promiseSchema.safeParse(content);
  if (!parsed.success) return undefined;
  const { doses, steps } = parsed.data;
  const isRising = doses.every((dose, k) => k === 0 || dose > doses[k - 1]);
  const isWhole = doses.includes(1) && steps.every(({ predicted }) => predicted.length === doses.length);
  return isRising && isWhole ? parsed.data : undefined;
}

/** The name of what a patch shows. */
export const shownName = ({ shows }: Pick<CheckPatch, "shows">): string =>
  typeof shows === "number" ? `tone-${shows}` : shows;

/** Where everything lies: it follows from the code. */
export function checkCardPlaces(layout: CheckLayout): MarkedCard {
  const { pitch } = layout.grid;
  return {
    ...recipeHead(layout),
    patches: layout.patches.map((patch) => ({
      ...{ id: patch.id, pattern: shownName(patch), repeat: patch.repeat },
      ...mmOf(patch.area, pitch),
    })),
  };
}

/** The recipe of a check card. */
export const checkRecipe = (
  layout: CheckLayout,
  promise: Omit<CheckPromise, "code" | "linesPerInch">,
): CheckRecipe => ({
  ...checkCardPlaces(layout),
  ...promise,
  photo: mmOf(layout.photoArea, layout.grid.pitch),
});

/** The text of its file: a step and a patch on each line. */
export const checkRecipeText = ({ steps, patches, ...head }: CheckRecipe): string =>
  [
    "{",
    ...headLines(head),
    `  "steps": ${listText(steps)},`,
    `  "patches": ${listText(patches)}`,
    "}\n",
  ].join("\n");
