/** A reference to a part of the same drawing. */
export const SAME_FILE = /^\s*#/;
/** One that holds what it refers to. */
export const DATA = /^\s*data:/i;
