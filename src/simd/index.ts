export * from "./compensate";
export * from "./luminance";
export * from "./resample";
export * from "./rows";
