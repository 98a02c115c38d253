import type { ResolvedOptions } from "../options/options.js";
import type { BurnSetting } from "./board-piece.js";

/** The setting of the machine for a piece with these options. Two pieces with the same key can be burnt in one run. */
export function burnSettingOf(options: ResolvedOptions): BurnSetting {
  const { pitch, levels, format, material, fullTone, motion, spot, outOfFocus } = options;
  const { speedMmPerS, accelerationMmPerS2, stepTimeS, oneWay, firingLossUs, passes } = options;
  const head = { speedMmPerS, accelerationMmPerS2, stepTimeS, oneWay, firingLossUs, passes };
  const { curve: _, ...surface } = material;
  const same = [pitch, levels, format, surface, fullTone, motion, head, spot, outOfFocus];
  return {
    ...{ pitch, levels, format, head },
    material: material.name,
    bareColor: material.bareColor,
    key: JSON.stringify(same),
  };
}
