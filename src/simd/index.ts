export { diffuseRow } from "./diffusion";
export { joinDots, settleDots, splitDots } from "./dot-diffusion";
export { floydSteinbergRows } from "./floyd-steinberg";
export { greenNoiseRow } from "./green-noise";
export { compareRow } from "./ordered";
export { addWeighted } from "./rows";
export { diffuseVariableRow } from "./variable-diffusion";
