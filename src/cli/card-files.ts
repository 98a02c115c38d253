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
