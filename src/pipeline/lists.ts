/** The methods and materials on offer, without the code that works with them: loads in a moment. */

export { autoCandidates } from "../4-halftone/candidates.js";
export { halftoneMethods } from "../4-halftone/catalogue.js";
export { findHalftoneMethod } from "../4-halftone/halftone.js";
export { materialPresets } from "../core/material/material-presets.js";
