import { lightnessFromLuminance, luminanceFromLightness } from "../core/physics/lightness.js";
import { linearFromSrgb } from "../core/physics/transfer.js";
import type { ToneAdjustments } from "./adjustments.js";
import type { InputRange } from "./input-range.js";

/**
 * All adjustments of single pixels as one table [65536]: linear luminance 0..1 by sRGB-encoded code. The order is: the input range
 * on linear light (what the camera saw); gamma, contrast and brightness on L* (what the eye sees), so that equal changes look
 * equal in light and dark; then the negative.
 */
export function toneTable(input: InputRange, adjust: ToneAdjustments): Float32Array {
  const table = new Float32Array(65536);
  const range = input.white - input.black;
  const { gamma, contrast, brightness, negative } = adjust;
  const untouched = gamma === 1 && contrast === 0 && brightness === 0 && !negative;
  const slope = 2 ** (contrast / 100);
  for (let code = 0; code < table.length; code++) {
    const light = clamp01((linearFromSrgb(code / 65535) - input.black) / range);
    if (untouched) {
      table[code] = light;
      continue;
    }
    const lightness = 100 * (lightnessFromLuminance(light) / 100) ** (1 / gamma);
    const adjusted = Math.min(100, Math.max(0, 50 + slope * (lightness - 50) + brightness));
    table[code] = luminanceFromLightness(negative ? 100 - adjusted : adjusted);
  }
  return table;
}

const clamp01 = (value: number): number => Math.min(1, Math.max(0, value));
