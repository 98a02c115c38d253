export * from "./compensate";
export * from "./exposure";
export * from "./luminance";
export * from "./resample";
export * from "./response";
export * from "./rows";
