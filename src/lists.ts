/** What there is to choose from, without the code that works with it: loads in a moment. */

export { autoCandidates } from "./4-halftone/candidates.js";
export { halftoneMethods } from "./4-halftone/catalogue.js";
export { materialPresets } from "./core/material-presets.js";
