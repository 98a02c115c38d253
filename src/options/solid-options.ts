import { refusal } from "../core/refusals/refusals.js";
import type { PictureKind, ResolvedOptions, SettledOptions } from "./options.js";

/** The method of a solid piece. */
const PLAIN_THRESHOLD = "threshold";

/** What only a tonal picture has a use for, as it is where nobody asks for it. */
const TONAL_DEFAULTS = {
  ...{ brightness: 0, contrast: 0, gamma: 1, localContrast: 0, sharpen: 0, levels: 2 },
  vignetteMm: undefined,
} as const;
type TonalOptions = Pick<ResolvedOptions, "method" | keyof typeof TONAL_DEFAULTS>;

/** Whether something is asked for that only a tonal picture has a use for. */
export const asksForTones = (options: TonalOptions): boolean =>
  options.method !== "auto" || tonalOption(options) !== undefined;

function tonalOption(options: TonalOptions): keyof typeof TONAL_DEFAULTS | undefined {
  const names = Object.keys(TONAL_DEFAULTS) as (keyof typeof TONAL_DEFAULTS)[];
  return names.find((name) => options[name] !== TONAL_DEFAULTS[name]);
}

/** Options whose kind was `auto`, for a picture that has turned out to be of this kind. */
export function asKind(options: ResolvedOptions, kind: PictureKind): SettledOptions {
  return Object.freeze({ ...options, ...(kind === "solid" && solidOptions(options)), kind });
}

/**
 * What differs for a solid piece: edges are mixed in luminance. Asked for a plain threshold, or for no compensation, it leaves
 * its edges where the drawing's pixels put them. Throws `OPTION_CONFLICT` for what it has no use for.
 */
export function solidOptions(options: TonalOptions & Pick<ResolvedOptions, "compensate">) {
  const { method, compensate } = options;
  if (method !== "auto" && method !== PLAIN_THRESHOLD) {
    throw refusal(
      "option-not-for-solid",
      { option: "method", lacks: "halftone", instead: PLAIN_THRESHOLD },
      { received: method },
    );
  }
  const tonal = tonalOption(options);
  if (tonal) {
    throw refusal("option-not-for-solid", { option: tonal, lacks: "tones" }, { received: options[tonal] });
  }
  return {
    method: PLAIN_THRESHOLD,
    compensate: compensate && method === "auto",
    toneMap: "luminance" as const,
  };
}
