export { addWeighted } from "./rows";
