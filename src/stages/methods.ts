import { halftoneMethods as catalogue } from "../4-halftone/catalogue.js";
import type { HalftoneFamily } from "../4-halftone/method.js";

/** What a user should know of a halftone method before choosing it. */
export interface HalftoneMethodFacts {
  /** Its name in options. */
  readonly id: string;
  readonly title: string;
  readonly family: HalftoneFamily;
  /** Author, title, year. */
  readonly source: string;
  /** False where the mean of the result is not the mean of what was asked for. */
  readonly keepsMean: boolean;
  /** Whether pixels may take one of more than two power levels. */
  readonly takesLevels: boolean;
  readonly note?: string;
}

/** Every halftone method, in the order in which a user should read them; each names its own source. */
export const halftoneMethods: readonly HalftoneMethodFacts[] = Object.freeze(
  catalogue.map(({ id, title, family, source, keepsMean, takesLevels, note }) =>
    Object.freeze({ id, title, family, source, keepsMean, takesLevels, ...(note !== undefined && { note }) }),
  ),
);
