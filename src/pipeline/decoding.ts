/** Only the decoding, so that a program can begin to decode while it loads the rest of the code. */
export {
  type BegunPhoto,
  beginDecoding,
  decodePhoto,
  decoderRelease,
  inspectPhoto,
  keepNothingDecoded,
  type Photo,
  type PhotoFacts,
  useDecoderThreads,
} from "../1-photo/decode.js";
