import { lstat, readdir, realpath, stat } from "node:fs/promises";
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import { glob, isDynamicPattern } from "tinyglobby";
import { readInputFile, unicodeBy } from "../input-files.js";
import { refused } from "../refusals.js";

/** A file that a customer has sent. */
export interface Upload {
  /** Its path below the folder that was given, parts joined by "/". Every list names the upload by it. */
  readonly id: string;
  readonly path: string;
  /** The folder below which a stranger has named it: no folder between may be a link. */
  readonly below?: string;
  /**
   * Only while a batch watches, and absent once the file is certainly complete. `assumed`: it is quiet for so short a time that a fault
   * which an incomplete file has is not told yet. `paused`: it had such a fault, and is left alone until it is quiet for longer.
   */
  readonly arrival?: "assumed" | "paused";
}

/** Files that operating systems put into folders, and incomplete uploads. */
const NOT_UPLOADS =
  /^(\.DS_Store|\._.*|~\$.*|Thumbs\.db|desktop\.ini|\..*\.part|.*\.(part|crdownload|tmp))$/i;

/**
 * Find the files of folders, globs and names, in the order of their ids. Links and special files are listed too, since each gets a
 * verdict. Folders behind links are not entered.
 *
 * @param out skipped if it lies among the uploads
 * @param without files among the uploads that are no uploads
 * @throws SpotpitchError `INPUT_MISSING`, `INPUT_UNREADABLE`; `OPTION_CONFLICT` for uploads in the output folder
 */
export async function findUploads(
  inputs: readonly string[],
  recursive: boolean,
  out: string,
  without: readonly string[],
): Promise<Upload[]> {
  const skipped = new Set(await Promise.all([out, ...without].map(realPath)));
  const found = new Map<string, Upload>();
  const outPath = await realPath(out);
  for (const input of inputs) {
    const path = await realPath(input);
    if (path === outPath || path.startsWith(outPath + sep)) {
      throw refused.inputInOutput(input, out);
    }
    for (const upload of await expand(input, recursive, skipped)) {
      if (!found.has(upload.path)) found.set(upload.path, upload);
    }
  }
  return distinct([...found.values()]).sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** The lines of a text file without empty ones. Each is a path, relative to the folder of the text file. */
export async function readFileList(list: string): Promise<string[]> {
  const bytes = await readInputFile(list, "list of files");
  const text = new TextDecoder(unicodeBy(bytes)).decode(bytes);
  const lines = text.split(/\r?\n/).filter((line) => line.trim() !== "");
  return lines.map((line) => resolve(dirname(list), line));
}

async function expand(input: string, recursive: boolean, skipped: ReadonlySet<string>): Promise<Upload[]> {
  const found = await lstat(input).catch(() => undefined);
  if (!found) {
    if (!isDynamicPattern(input)) throw refused.missing("file or folder", input);
    const paths = await glob(input, { followSymbolicLinks: false, expandDirectories: false, dot: false });
    return paths.map((path) => ({ id: basename(path), path: resolve(path) }));
  }
  // The user may name a folder through a link. Links inside the folder are not followed.
  const target = await stat(input).catch(() => undefined);
  if (target?.isDirectory()) return walk(await realpath(input), "", recursive, skipped);
  return [{ id: basename(input), path: resolve(input) }];
}

async function walk(
  folder: string,
  below: string,
  recursive: boolean,
  skipped: ReadonlySet<string>,
): Promise<Upload[]> {
  const uploads: Upload[] = [];
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    const id = below === "" ? entry.name : `${below}/${entry.name}`;
    if (skipped.has(path) || NOT_UPLOADS.test(entry.name)) continue;
    if (!entry.isDirectory()) uploads.push({ id, path });
    else if (recursive) uploads.push(...(await walk(path, id, true, skipped)));
  }
  return uploads;
}

/** The path with its links followed. A path that does not exist yet stays unchanged. */
const realPath = async (path: string): Promise<string> => realpath(path).catch(() => resolve(path));

/** Files of several folders may share an id. Those get their path from the working folder instead. */
function distinct(uploads: readonly Upload[]): Upload[] {
  const counts = new Map<string, number>();
  for (const { id } of uploads) counts.set(id, (counts.get(id) ?? 0) + 1);
  return uploads.map(({ id, path }) =>
    counts.get(id) === 1 ? { id, path } : { id: relative(".", path).split(sep).join("/"), path },
  );
}
