import { refusal } from "../core/refusals/refusals.js";
import type { OptionTable } from "./option.js";
import type { PictureKind, ResolvedOptions, SettledOptions } from "./resolved-options.js";
import { prepareTable } from "./tables.js";

/** The method of a solid piece. */
const PLAIN_THRESHOLD = "threshold";

type TonalOptions = Pick<ResolvedOptions, "method">;

/** Whether something is asked for that only a tonal picture has a use for. */
export const asksForTones = (options: TonalOptions): boolean =>
  options.method !== "auto" || tonalOption(options) !== undefined;

/** What is asked for that only a tonal picture has a use for. */
function tonalOption(options: TonalOptions): readonly [name: string, value: unknown] | undefined {
  const table: OptionTable = prepareTable;
  return Object.entries(options).find(
    ([name, value]) => table[name]?.tonal && value !== table[name].takes.parse(undefined),
  );
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
    const [option, received] = tonal;
    throw refusal("option-not-for-solid", { option, lacks: "tones" }, { received });
  }
  return {
    method: PLAIN_THRESHOLD,
    compensate: compensate && method === "auto",
    toneMap: "luminance" as const,
  };
}
