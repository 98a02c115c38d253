export { addScaledRow, sumTables, weighRows1, weighRows2, weighRows3, windowOffsets } from "./exposure";
export {
  collectLine,
  forwardLine,
  inverseLine,
  lineFromRows,
  multiplyLine,
  rowsFromLine,
  spreadLine,
} from "./fourier";
export { addDifferences, lightnessRow } from "./lightness";
export { addResponse, scaleRow } from "./response";
export { addWeighted } from "./rows";
