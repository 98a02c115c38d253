import { namedMethods as catalogue } from "../4-halftone/catalogue.js";
import type { HalftoneFamily } from "../4-halftone/method.js";

/** Facts about a halftone method for choosing one. */
export interface HalftoneMethodFacts {
  /** Its name in options. */
  readonly id: string;
  readonly title: string;
  readonly family: HalftoneFamily;
  /** Author, title, year. */
  readonly source: string;
  /** False if the mean of the result is not the mean of the burn fractions. */
  readonly keepsMean: boolean;
  /** Whether pixels may take one of more than two power levels. */
  readonly takesLevels: boolean;
  readonly note?: string;
  /** It goes on from the bitmap of another method: `searchBitmap`, or `prepare`. */
  readonly searches?: true;
}

/** Every halftone method with its source, in reading order. */
export const halftoneMethods: readonly HalftoneMethodFacts[] = Object.freeze(
  catalogue.map(({ id, title, family, source, keepsMean, takesLevels, note, searches }) =>
    Object.freeze({
      ...{ id, title, family, source, keepsMean, takesLevels },
      ...(note !== undefined && { note }),
      ...(searches && { searches }),
    }),
  ),
);
