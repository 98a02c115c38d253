import { assertOptions } from "./option-error.js";
import { type PrepareOptions, prepareSchema, prepareTable } from "./tables.js";

/** The options of a piece among those of a command that also has options of its own: for boards, or for a batch. */
export function optionsOfPiece(options: object): PrepareOptions {
  const piece: unknown = Object.fromEntries(
    Object.entries(options).filter(([name]) => Object.hasOwn(prepareTable, name)),
  );
  assertOptions(prepareSchema, piece);
  return piece;
}
