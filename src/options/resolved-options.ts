import type * as z from "zod";
import type { Material } from "../core/material/material.js";
import type { FullTone } from "../core/physics/power.js";
import type { Pitch } from "../core/plane.js";
import type { BeamMotion, Spot } from "../core/spot.js";
import type { Spread } from "../core/spread.js";
import type { Wrap } from "../core/wrap.js";
import type { IdleOption } from "./option.js";
import type { prepareSchema } from "./tables.js";

/** A caller's options with defaults filled in. */
export type CheckedOptions = z.output<typeof prepareSchema>;

/** How far the work lies from the focus, and the spot there. */
export interface OutOfFocus {
  readonly defocusMm: number;
  readonly focusSpot: Spot;
}

/** Complete options. Only the kind and the method may still be undecided, as `auto`. */
export interface ResolvedOptions
  extends Omit<
    CheckedOptions,
    | "spotMm"
    | "material"
    | "linesPerInch"
    | "linesPerInchAlong"
    | "linesPerInchOffered"
    | "screenLinesPerInch"
    | "aroundMm"
    | "coneLayout"
    | "place"
    | "wallMm"
    | "doseSpread"
    | "spread"
    | "wavelengthMm"
    | "propagationRatio"
    | "defocusMm"
    | "powerPercent"
  > {
  /** The spot on the work. */
  readonly spot: Spot;
  /** Only if the work lies beside the focus. */
  readonly outOfFocus: OutOfFocus | undefined;
  /** A round piece. Without a placing `widthMm` is its circumference, for a cone half-way down. */
  readonly wrap: Wrap | undefined;
  /** Columns of a row that closes on itself; 0 on flat work and for a placed picture. */
  readonly ringColumns: number;
  readonly pitch: Pitch;
  readonly material: Material;
  readonly screenLinesPerInch: number;
  /** The user's full-tone setting, if it is known. */
  readonly fullTone: FullTone | undefined;
  readonly motion: BeamMotion;
  readonly spread: Spread;
  /** Names of options of the machine whose defaults were taken. */
  readonly assumed: readonly string[];
  /** Options that were given and need something to have an effect. */
  readonly conditional: readonly IdleOption[];
}

export type PictureKind = "photo" | "solid";

/** Options with a decided kind. */
export type SettledOptions = ResolvedOptions & { readonly kind: PictureKind };
