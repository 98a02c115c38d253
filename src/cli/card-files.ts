import { openOutputSet } from "./output-files.js";
import type { PhotoRequest } from "./request.js";

/** The files of a card of either kind. */
export const CARD_FILES = {
  burn: "card.burn.png",
  preview: "card.preview.png",
  recipe: "card.json",
  page: "card.html",
} as const;

/** What was typed for a card. */
export interface CardRequest extends Omit<PhotoRequest, "photo"> {
  /** Whether a check card is wanted, or the photo that it shows. */
  readonly check: boolean | string;
}

/** What comes after burning it. */
export const PHOTOGRAPH = "take its picture as told on the page";

/** Contents of the files. */
interface CardContents {
  readonly burnFile: Uint8Array;
  readonly previewFile: Uint8Array;
  readonly recipeFile: string;
  readonly page: string;
}

/** Write the files of a card, all or none. Returns their paths. */
export async function writeCard(
  out: string,
  { burnFile, previewFile, recipeFile, page }: CardContents,
): Promise<string[]> {
  const files = await openOutputSet(out, Object.values(CARD_FILES));
  await files.write(CARD_FILES.burn, burnFile);
  await files.write(CARD_FILES.preview, previewFile);
  await files.write(CARD_FILES.recipe, recipeFile);
  await files.write(CARD_FILES.page, page);
  return files.complete();
}
