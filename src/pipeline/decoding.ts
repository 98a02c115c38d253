/** Decoding alone, without the code that works with a photo: for a program that begins before it has loaded that. */
export {
  type BegunPhoto,
  beginDecoding,
  decodePhoto,
  inspectPhoto,
  type Photo,
  type PhotoFacts,
  useDecoderThreads,
} from "../1-photo/decode.js";
