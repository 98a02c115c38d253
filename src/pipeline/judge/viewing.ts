import type { Viewing } from "../../5-burn/eye-filter.js";
import { VIEW_LUMINANCE_CD_PER_M2 } from "../../core/physics/modulation.js";
import type { ResolvedOptions } from "../../options/options.js";

export const viewingOf = ({ viewDistanceMm }: Pick<ResolvedOptions, "viewDistanceMm">): Viewing => ({
  distanceMm: viewDistanceMm,
  luminanceCdPerM2: VIEW_LUMINANCE_CD_PER_M2,
});
