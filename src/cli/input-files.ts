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

/** Read a JSON file that the user named. Throws `INPUT_*`; a file that is not JSON is reported with the parser's own words. */
export async function readJsonFile(path: string, role: ContentRole): Promise<unknown> {
  return parseJson(new TextDecoder().decode(await readInputFile(path, role)), path, role);
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
