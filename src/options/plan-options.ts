import { type LensSpot, spotOfLens } from "../core/physics/lens.js";
import { refusal } from "../core/refusals/refusals.js";
import type { Spot } from "../core/spot.js";
import { assumedIn, conditionalIn } from "./given.js";
import type { IdleOption, Option } from "./option.js";
import { checkOptions } from "./option-error.js";
import { spotOf, spotOnWork } from "./spot-on-work.js";
import { DEFAULT_SPOT_MM } from "./table/size.js";
import {
  type CheckedPlanOptions,
  type PlanOptions,
  type PrepareOptions,
  plannedSchema,
  planSchema,
  planTable,
} from "./tables.js";

export { USUAL_STRIP_LINES_PER_INCH } from "./table/plan.js";
export type { CheckedPlanOptions, PlanOptions } from "./tables.js";

/** The part of a plan's options that its rows take: all but size, density and spot. The spot of a lens is the one on the work. */
export function preparedPart(options: CheckedPlanOptions): Omit<PrepareOptions, "widthMm" | "heightMm"> {
  const planned = plannedSchema.parse(options);
  const { widthMm: _width, heightMm: _height, ...unsized } = planned;
  const { wavelengthMm: _wavelength, propagationRatio: _ratio, defocusMm: _defocus, ...rest } = unsized;
  return rest;
}

/** A spot to plan for, and the computed lens if there is one. */
export interface PlanLens {
  /** For people: `spot 0.115 mm`, `f = 50.8 mm`. */
  readonly name: string;
  /** On the work. */
  readonly spot: Spot;
  readonly optics?: LensSpot;
}

/**
 * Check a caller's options. Throws `OPTION_INVALID`, `OPTION_UNKNOWN`, and `OPTION_CONFLICT` for an option of another kind of work.
 */
export function checkPlanOptions(options: PlanOptions): CheckedPlanOptions {
  const checked = checkOptions(planSchema, options);
  const given: Record<string, unknown> = options;
  for (const [option, { work }] of Object.entries<Option>(planTable)) {
    if (given[option] === undefined || work === undefined || work === checked.kind) continue;
    throw refusal(
      "option-of-other-work",
      { option, of: work, kind: checked.kind },
      { received: given[option] },
    );
  }
  return Object.freeze({ ...checked, densities: checked.densities ?? checked.linesPerInchOffered });
}

/** What the caller left out of the machine's own figures. A spot computed from the optics is not assumed. */
export const assumedInPlan = (options: PlanOptions): readonly string[] =>
  assumedIn(planTable, options).filter(
    (name) => name !== "spotMm" || OPTICS.every((optic) => options[optic] === undefined),
  );

/** Options of a plan that were given and need something to have an effect. */
export const conditionalInPlan = (options: PlanOptions): readonly IdleOption[] =>
  conditionalIn(planTable, options);

const OPTICS = ["focalLengthMm", "beamDiameterMm"] as const;

/**
 * The spots to compare, measured or computed, and widened if the work lies beside the focus. Throws `OPTION_CONFLICT` for both, or
 * for incomplete optics.
 */
export function planLenses(options: CheckedPlanOptions): PlanLens[] {
  const { spotMm, wavelengthMm, focalLengthMm, beamDiameterMm } = options;
  const optics = { wavelengthMm, focalLengthMm, beamDiameterMm };
  // A wavelength alone widens a measured spot beside the focus.
  if (focalLengthMm === undefined && beamDiameterMm === undefined) {
    return listOf(spotMm ?? DEFAULT_SPOT_MM).map((spot) => measuredSpot(spot, options));
  }
  if (spotMm !== undefined) throw refusal("spot-and-optics", {}, { received: spotMm });
  if (wavelengthMm === undefined || focalLengthMm === undefined || beamDiameterMm === undefined) {
    const missing = Object.entries(optics).find(([, value]) => value === undefined)?.[0] ?? "";
    throw refusal("optics-incomplete", { option: missing });
  }
  const { propagationRatio, lensShape: shape, lensIndex: index, defocusMm } = options;
  const beam = { wavelengthMm, beamDiameterMm, propagationRatio, shape, index, defocusMm };
  return listOf(focalLengthMm).map((focal) => {
    const computed = spotOfLens({ ...beam, focalLengthMm: focal });
    return {
      name: `f = ${digits(focal)} mm`,
      spot: { alongMm: computed.spotMm, acrossMm: computed.spotMm },
      optics: computed,
    };
  });
}

function measuredSpot(given: number | Spot, options: CheckedPlanOptions): PlanLens {
  const focus = spotOf(given);
  const spot = spotOnWork(focus, options);
  const name = `spot ${sizeOf(spot)}`;
  return { name: spot === focus ? name : `${name} (${sizeOf(focus)} at the focus)`, spot };
}

const sizeOf = ({ alongMm, acrossMm }: Spot): string =>
  alongMm === acrossMm ? `${digits(acrossMm)} mm` : `${digits(alongMm)} × ${digits(acrossMm)} mm`;
const listOf = <T>(value: T | readonly T[]): readonly T[] => (Array.isArray(value) ? value : [value as T]);
const digits = (value: number): number => Number(value.toPrecision(3));
