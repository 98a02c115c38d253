import { visible } from "../core/words.js";

/** A line of a summary for a terminal. */
export const row = (label: string, text: string): string => `${label.padEnd(13)} ${visible(text)}`;
