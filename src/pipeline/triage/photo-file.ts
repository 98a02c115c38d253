import { decodePhoto } from "../../1-photo/decode.js";
import { type PrepareOptions, resolveOptions } from "../../options/options.js";
import { type Triage, triagePhoto as triage } from "./triage.js";

/**
 * Judge whether a photo is good enough for the piece, before any work on it: `ready`, `note` (usable, with visible defects) or
 * `ask` (write to the customer first), with words for the workshop, and
 * sentences that can be sent to the customer unchanged. Ours.
 *
 * @param photo a picture file's bytes; not modified
 * @param options for the preparation of the piece
 * @throws SpotpitchError `OPTION_*` for a bad option, `INPUT_*` for a photo or a mask that cannot be used
 */
export async function triagePhoto(photo: Uint8Array, options: PrepareOptions = {}): Promise<Triage> {
  const resolved = resolveOptions(options);
  return triage(await decodePhoto(photo), resolved);
}
