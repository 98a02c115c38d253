export { addScaledRow, sumTables, weighRows1, weighRows2, weighRows3, windowOffsets } from "./exposure";
export { addResponse, scaleRow } from "./response";
export { addWeighted } from "./rows";
