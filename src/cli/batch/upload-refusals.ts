import { SpotpitchError } from "../../core/errors.js";

const SEND_PICTURE = "Put the picture itself there.";

/** The command's reasons to refuse an upload. `name` is the upload's id. */
export const refusedUpload = {
  link: (name: string) =>
    new SpotpitchError("INPUT_LINK", `"${name}" is a symbolic link, which is not followed. ${SEND_PICTURE}`),

  linkedFolder: (name: string) =>
    new SpotpitchError(
      "INPUT_LINK",
      `"${name}" lies in a linked folder, which is not followed. ${SEND_PICTURE}`,
    ),

  notAFile: (name: string, what: string) =>
    new SpotpitchError("INPUT_NOT_A_FILE", `"${name}" is ${what}, not a file. ${SEND_PICTURE}`),

  tooLarge: (name: string, bytes: number, maxBytes: number) =>
    new SpotpitchError(
      "INPUT_TOO_LARGE",
      `"${name}" has ${Math.ceil(bytes / 1e6)} MB. Allowed: up to ${maxBytes / 1e6} MB (--max-file-size).`,
      { received: bytes },
    ),

  changing: (name: string) =>
    new SpotpitchError(
      "INPUT_CHANGING",
      `"${name}" changes while it is read. Run the command again when its upload has ended.`,
    ),

  changed: (name: string) =>
    new SpotpitchError(
      "INPUT_CHANGING",
      `"${name}" has changed since it was checked. Run the command again.`,
    ),

  tooSlow: (name: string, maxSeconds: number, isSearched: boolean) =>
    new SpotpitchError(
      "INPUT_TOO_DEMANDING",
      `"${name}" takes longer than ${maxSeconds} s. Raise --max-seconds to allow more${isSearched ? ", or end its search earlier with --seconds" : ""}.`,
    ),

  tooMuchMemory: (name: string, memoryBytes: number) =>
    new SpotpitchError(
      "INPUT_TOO_DEMANDING",
      `"${name}" needs more memory than --memory allows (${Number((memoryBytes / 1e9).toPrecision(2))} GB for all workers together). Raise --memory, or ask for a smaller or simpler picture.`,
    ),

  workerCrashed: (name: string) =>
    new SpotpitchError(
      "INPUT_TOO_DEMANDING",
      `The worker crashed on "${name}": a malicious file, or out of memory.`,
    ),
};
