import { packageVersion } from "../../core/version.js";
import { decoderRelease } from "../../pipeline/decoding.js";

/**
 * Everything beside upload and options that the bytes of a piece depend on: this package, the decoder, and Node.js, which compresses the
 * files. Batch and workers must agree in it.
 */
export const ownRelease = async (): Promise<string> =>
  [
    `spotpitch ${packageVersion()}`,
    `Node.js ${process.versions.node}`,
    await decoderRelease(),
    process.arch,
  ].join(", ");
