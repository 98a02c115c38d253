import { readFile, realpath } from "node:fs/promises";
import { extname, join, sep } from "node:path";

/** Kinds of files that a batch writes. Nothing else of the folder is served. */
const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".csv": "text/csv; charset=utf-8",
  ".png": "image/png",
  ".tif": "image/tiff",
  ".tiff": "image/tiff",
  ".bmp": "image/bmp",
  ".webp": "image/webp",
};

export interface ServedFile {
  readonly type: string;
  readonly bytes: Uint8Array;
}

/**
 * A file of the output folder, by its address below the page's. Undefined for anything hidden, outside, or reached by a link.
 *
 * @param address percent-encoded, parts joined by "/"
 */
export async function servedFile(out: string, address: string): Promise<ServedFile | undefined> {
  const parts = decodedParts(address);
  if (!parts?.every((part) => part !== "" && !part.startsWith(".") && !/[\\/:\0]/.test(part))) return;
  const type = TYPES[extname(parts[parts.length - 1]).toLowerCase()];
  if (type === undefined) return;
  try {
    const folder = await realpath(out);
    const path = await realpath(join(folder, ...parts));
    if (path !== [folder, ...parts].join(sep)) return;
    return { type, bytes: await readFile(path) };
  } catch {
    return;
  }
}

function decodedParts(address: string): string[] | undefined {
  try {
    return address.split("/").map(decodeURIComponent);
  } catch {
    return;
  }
}
