import { readFile, stat } from "node:fs/promises";
import { type ErrorCode, SpotpitchError } from "../core/errors.js";

/** Read a file that the user named. Throws `INPUT_MISSING`, `INPUT_UNREADABLE`. */
export async function readInputFile(path: string): Promise<Uint8Array> {
  try {
    if ((await stat(path)).isDirectory()) {
      throw new SpotpitchError("INPUT_UNREADABLE", `${path} is a folder; give the photo's own file name.`, {
        received: path,
      });
    }
    return await readFile(path);
  } catch (error) {
    if (error instanceof SpotpitchError) throw error;
    const code = error instanceof Error && "code" in error ? error.code : undefined;
    if (code === "ENOENT" || code === "ENOTDIR") {
      throw new SpotpitchError("INPUT_MISSING", `There is no file ${path}.`, {
        received: path,
        cause: error,
      });
    }
    throw new SpotpitchError("INPUT_UNREADABLE", `${path} cannot be read (${code ?? error}).`, {
      received: path,
      cause: error,
    });
  }
}

/** Read a JSON file that the user named. Throws `invalid` with the parser's own words where it is not JSON. */
export async function readJsonFile(path: string, invalid: ErrorCode): Promise<unknown> {
  const bytes = await readInputFile(path);
  try {
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch (error) {
    throw new SpotpitchError(
      invalid,
      `${path} is not JSON: ${error instanceof Error ? error.message : error}.`,
      {
        received: path,
        cause: error,
      },
    );
  }
}
