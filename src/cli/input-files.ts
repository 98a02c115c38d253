import { readFile, stat } from "node:fs/promises";
import { SpotpitchError } from "../core/errors.js";
import { type ContentRole, type FileRole, refused, systemCode } from "./refusals.js";

/** Read a file that the user named. Throws `INPUT_MISSING`, `INPUT_UNREADABLE`. */
export async function readInputFile(path: string, role: FileRole): Promise<Uint8Array> {
  try {
    if ((await stat(path)).isDirectory()) throw refused.folderGiven(role, path);
    return await readFile(path);
  } catch (error) {
    if (error instanceof SpotpitchError) throw error;
    const isMissing = ["ENOENT", "ENOTDIR"].includes(systemCode(error));
    throw isMissing ? refused.missing(role, path, error) : refused.unreadable(role, path, error);
  }
}

export type UnicodeForm = "utf-8" | "utf-16le" | "utf-16be";

/** The form of a text by its byte order mark: some shells write UTF-16. */
export function unicodeBy([first, second]: Uint8Array): UnicodeForm {
  if (first === 0xff && second === 0xfe) return "utf-16le";
  return first === 0xfe && second === 0xff ? "utf-16be" : "utf-8";
}

/** Read a JSON file that the user named. Throws `INPUT_*`; a file that is not JSON is reported with the parser's own words. */
export async function readJsonFile(path: string, role: ContentRole): Promise<unknown> {
  const bytes = await readInputFile(path, role);
  return parseJson(new TextDecoder(unicodeBy(bytes)).decode(bytes), path, role);
}

/** @param path of the file that holds the text */
export function parseJson(text: string, path: string, role: ContentRole): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    // The parser quotes the file with its line breaks.
    const why = String(error instanceof Error ? error.message : error).replace(/\s+/g, " ");
    throw refused.unusable(role, path, `it is not JSON (${why})`, error);
  }
}
