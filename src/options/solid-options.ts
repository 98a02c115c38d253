import { refusal } from "../core/refusals/refusals.js";
import type { OptionTable } from "./option.js";
import type { PictureKind, ResolvedOptions, SettledOptions } from "./resolved-options.js";
import { prepareTable } from "./tables.js";

/** The method of a solid piece. */
const PLAIN_THRESHOLD = "threshold";

type TonalOptions = Pick<ResolvedOptions, "method">;

/** Whether the options contain one that is only for tonal pictures. */
export const asksForTones = (options: TonalOptions): boolean =>
  options.method !== "auto" || tonalOption(options) !== undefined;

/** The first option that is only for tonal pictures and differs from its default. At 0 it is off. */
function tonalOption(options: TonalOptions): readonly [name: string, value: unknown] | undefined {
  const table: OptionTable = prepareTable;
  return Object.entries<unknown>(options).find(
    ([name, value]) => table[name]?.tonal && value !== 0 && value !== table[name].takes.parse(undefined),
  );
}

/** Options of kind `auto` with the kind that was found for the picture. */
export function asKind(options: ResolvedOptions, kind: PictureKind): SettledOptions {
  return Object.freeze({ ...options, ...(kind === "solid" && solidOptions(options)), kind });
}

/**
 * The options that differ for a solid piece. With the plain threshold, or without compensation, edges stay where the pixels of
 * the drawing put them. Throws `OPTION_CONFLICT` for options that are only for tonal pictures.
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
    const [option, received] = tonal;
    throw refusal("option-not-for-solid", { option, lacks: "tones" }, { received });
  }
  return {
    method: PLAIN_THRESHOLD,
    compensate: compensate && method === "auto",
    toneMap: "luminance" as const,
  };
}
