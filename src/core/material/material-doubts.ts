import { linearFromSrgb } from "../physics/transfer.js";
import type { MaterialData } from "./material.js";

/** Doses are relative to a solid fill; a table that reaches this far was most likely written in percent. */
const DOSE_LIKE_PERCENT = 10;

/**
 * What in a material is allowed but probably a slip, one sentence each: colours that contradict the response, doses that look
 * like percent, and ends of the table that had to be guessed.
 */
export function materialDoubts({ name, response, bareColor, markedColor }: MaterialData): string[] {
  const [firstDose, bare] = response[0];
  const [lastDose, marked] = response[response.length - 1];
  const doubts: string[] = [];

  const lightens = marked > bare;
  const shownBare = luminanceOf(bareColor);
  const shownMarked = luminanceOf(markedColor);
  if (shownBare !== shownMarked && lightens !== shownMarked > shownBare) {
    const [is, shown] = lightens ? ["lighter", "darker"] : ["darker", "lighter"];
    doubts.push(
      `The colours of ${name} contradict its response: marks grow ${is}, but markedColor is ${shown} than bareColor, so the preview misleads.`,
    );
  }
  if (lastDose > DOSE_LIKE_PERCENT) {
    doubts.push(
      `The doses of ${name} reach ${lastDose}, which looks like percent: dose 1 is a solid fill, so write 0.5 for 50 %.`,
    );
  }
  if (firstDose > 0) {
    doubts.push(
      `The response of ${name} has no dose 0: the bare surface is taken to look as after dose ${firstDose}.`,
    );
  }
  if (lastDose < 1) {
    doubts.push(
      `The response of ${name} ends before dose 1: a solid fill is taken to look as after dose ${lastDose}.`,
    );
  }
  return doubts;
}

/** Relative luminance of `#rrggbb`: IEC 61966-2-1 decoding, BT.709 weights. */
function luminanceOf(hexColor: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) =>
    linearFromSrgb(Number.parseInt(hexColor.slice(at, at + 2), 16) / 255),
  );
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}
