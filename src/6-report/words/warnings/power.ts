import { LOW_POWER, powerTooWeak, powerVeryLow } from "../power-words.js";
import { warning } from "./rule.js";

export const powerWarnings = {
  "power-too-weak": warning({
    ...powerTooWeak,
    when({ power: { message: _, ...figures } }) {
      return figures.fullPowerSpeedMmPerS !== undefined && figures;
    },
  }),
  "power-very-low": warning({
    ...powerVeryLow,
    when({ power: { message: _, ...figures } }) {
      return figures.percent !== undefined && figures.percent < LOW_POWER && figures;
    },
  }),
};
