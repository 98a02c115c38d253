import { powerTooWeak } from "../power-words.js";
import { warning } from "./rule.js";

export const powerWarnings = {
  "power-too-weak": warning({
    ...powerTooWeak,
    when({ power: { message: _, ...figures } }) {
      return figures.fullPowerSpeedMmPerS !== undefined && figures;
    },
  }),
};
