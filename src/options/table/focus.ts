import * as z from "zod";
import { group } from "../group.js";
import { length, number, wavelength } from "../kinds.js";
import { between } from "../takes.js";

const WAVELENGTH_WORDS = "0.0002 to 0.02 mm";

/** The beam behind its focus. `plan` also computes the focus from it. */
export const beamEntries = {
  wavelengthMm: wavelength(
    "--wavelength <length>",
    z.number(WAVELENGTH_WORDS).min(0.0002, WAVELENGTH_WORDS).max(0.02, WAVELENGTH_WORDS).optional(),
    "of the beam: 10.6um, 450nm",
    { needs: "defocus" },
  ),
  propagationRatio: number("--m2 <ratio>", between(1, 1000).default(1), "beam propagation ratio M²", {
    needs: "defocus",
  }),
  defocusMm: length(
    "--defocus <length>",
    between(-100, 100, "mm").default(0),
    "how far the work lies from the focus, which widens the spot; a measured spot is that at the focus, and --wavelength is needed",
  ),
} as const;

/** A measured spot that is widened, because the work lies beside the focus. */
export const focusOptions = group("Spot out of focus", beamEntries);
