import { decodePhoto, type Photo } from "../1-photo/decode.js";
import type { ResolvedOptions } from "../options/options.js";
import type { DecodedSource } from "../pipeline/make-piece.js";
import { engravedPart } from "../pipeline/photo/engraved-part.js";
import { decodeHints } from "../pipeline/photo/piece-size.js";

/** A photo on a lane: decoded, masked and cropped once for all requests. A drawing is rendered again for each grid. */
export function lanePhoto(
  bytes: Uint8Array,
  fileName: string,
): (options: ResolvedOptions) => Promise<DecodedSource> {
  let decoded: Photo | undefined;
  let engraved: Promise<Photo> | undefined;
  return async (options) => {
    const photo = decoded ?? (await decodePhoto(bytes, decodeHints(options, fileName)));
    if (photo.format === "svg") return { photo: Promise.resolve(photo) };
    decoded = photo;
    return {
      photo: Promise.resolve(photo),
      engraved() {
        engraved ??= engravedPart(photo, options);
        return engraved;
      },
    };
  };
}
