import { linearFromSrgb, srgbFromLinear } from "../../core/physics/transfer.js";

/** Paints luminance factors in a material's colours. */
export type Painter = (luminanceFactor: number, out: Uint8Array, at: number) => void;

const STEPS = 1023;

/**
 * The colour of a partly marked surface, mixed in linear light as an eye mixes invisibly small dots. It is for display only: the two
 * colours are the material's, and the share comes from the predicted luminance factor.
 *
 * @param bare luminance factor shown as `bareColor`
 * @param marked luminance factor shown as `markedColor`
 */
export function materialPainter(
  bareColor: string,
  markedColor: string,
  bare: number,
  marked: number,
): Painter {
  const from = linearChannels(bareColor);
  const to = linearChannels(markedColor);
  const palette = new Uint8Array(3 * (STEPS + 1));
  for (let step = 0; step <= STEPS; step++) {
    for (let c = 0; c < 3; c++) {
      const linear = from[c] + ((to[c] - from[c]) * step) / STEPS;
      palette[3 * step + c] = Math.round(255 * srgbFromLinear(linear));
    }
  }
  const scale = marked === bare ? 0 : STEPS / (marked - bare);
  return (luminanceFactor, out, at) => {
    const step = Math.min(STEPS, Math.max(0, Math.round((luminanceFactor - bare) * scale)));
    out[at] = palette[3 * step];
    out[at + 1] = palette[3 * step + 1];
    out[at + 2] = palette[3 * step + 2];
  };
}

function linearChannels(hexColor: string): number[] {
  return [1, 3, 5].map((from) => linearFromSrgb(Number.parseInt(hexColor.slice(from, from + 2), 16) / 255));
}
