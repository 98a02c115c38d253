import { SpotpitchError } from "../../src/core/errors.js";

/** The error that `run` throws, which must be the library's own. */
export function refusalOf(run: () => unknown): SpotpitchError {
  try {
    run();
  } catch (error) {
    if (error instanceof SpotpitchError) return error;
    throw error;
  }
  throw new Error("nothing was refused");
}
