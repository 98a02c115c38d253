import { specOfCode } from "../../7-card/card-spec.js";
import { cardLayout } from "../../7-card/layout.js";
import { cardRecipe, cardRecipeSchema, recipeText } from "../../7-card/recipe.js";

/** Why the content of a file is not the recipe of a card, in a few words; undefined if it is. */
export function recipeFault(content: unknown): string | undefined {
  if (typeof Reflect.get(Object(content), "code") !== "string") return "it has no code";
  if (specOfCode(String(Reflect.get(Object(content), "code")))?.isCheck)
    return "it is that of a check card, which is read with --check";
  const parsed = cardRecipeSchema.safeParse(content);
  if (!parsed.success) {
    const [{ path }] = parsed.error.issues;
    return path.length === 0 ? "it is no recipe" : `"${path.join(".")}" is wrong or missing`;
  }
  const spec = specOfCode(parsed.data.code);
  if (!spec) return `its code "${parsed.data.code}" is not that of a test card of this version`;
  return recipeText(cardRecipe(cardLayout(spec))) === recipeText(parsed.data)
    ? undefined
    : "it was changed: what it says does not follow from its code";
}
