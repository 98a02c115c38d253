import { basename } from "node:path";
import { decodeEarly } from "./decode-early.js";
import { readInputFile } from "./input-files.js";
import type { PhotoRequest } from "./request.js";

/** `spotpitch prepare`: decoding starts first, and the rest of the code is loaded meanwhile. */
export async function prepareCommand(request: PhotoRequest): Promise<void> {
  const reading = readInputFile(request.photo, "photo");
  reading.catch(() => {}); // a bad option is reported before a bad photo
  const decoding = await decodeEarly(reading, basename(request.photo));
  const { prepareFiles } = await import("./prepare-files.js");
  await prepareFiles(request, reading, decoding);
}
