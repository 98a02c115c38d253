import { readFile, stat } from "node:fs/promises";
import { type ErrorCode, SpotpitchError } from "../core/errors.js";

/** What a file is to the user, as it stands in a sentence. */
export type FileRole = "photo" | "mask" | "material file" | "config file" | "job sheet";

/** Read a file that the user named. Throws `INPUT_MISSING`, `INPUT_UNREADABLE`. */
export async function readInputFile(path: string, role: FileRole): Promise<Uint8Array> {
  try {
    if ((await stat(path)).isDirectory()) {
      throw new SpotpitchError("INPUT_UNREADABLE", `"${path}" is a folder; give the ${role} itself.`, {
        received: path,
      });
    }
    return await readFile(path);
  } catch (error) {
    if (error instanceof SpotpitchError) throw error;
    const code = error instanceof Error && "code" in error ? error.code : undefined;
    if (code === "ENOENT" || code === "ENOTDIR") {
      throw new SpotpitchError("INPUT_MISSING", `There is no ${role} "${path}".`, {
        received: path,
        cause: error,
      });
    }
    throw new SpotpitchError("INPUT_UNREADABLE", `The ${role} "${path}" cannot be read (${code ?? error}).`, {
      received: path,
      cause: error,
    });
  }
}

/** Read a JSON file that the user named. Throws `invalid` with the parser's own words where it is not JSON. */
export async function readJsonFile(path: string, role: FileRole, invalid: ErrorCode): Promise<unknown> {
  const bytes = await readInputFile(path, role);
  try {
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch (error) {
    // The parser quotes the file, line breaks and all.
    const why = String(error instanceof Error ? error.message : error).replace(/\s+/g, " ");
    throw new SpotpitchError(invalid, `The ${role} "${path}" is not JSON (${why}).`, {
      received: path,
      cause: error,
    });
  }
}
