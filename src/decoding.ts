/** Decoding alone, without the code that works with a photo: for a program that wants to begin before it has loaded that. */
export { beginDecoding, useDecoderThreads } from "./1-photo/decode.js";
