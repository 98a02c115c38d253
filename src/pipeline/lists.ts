/** The lists of methods and materials without the code that uses them, so that they load fast. */

export { autoCandidates } from "../4-halftone/candidates.js";
export { namedMethods } from "../4-halftone/catalogue.js";
export { findHalftoneMethod } from "../4-halftone/halftone.js";
export { materialPresets } from "../core/material/material-presets.js";
