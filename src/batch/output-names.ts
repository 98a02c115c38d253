import { sha256 } from "./sha256.js";

/** Names of devices on some systems, with any ending. */
const RESERVED = /^(con|prn|aux|nul|conin\$|conout\$|com[0-9¹²³]|lpt[0-9¹²³])(\.|$)/i;
/** Separators, wildcards and quotes that some file systems refuse, and all invisible characters. */
const FORBIDDEN = /[\\/:*?"<>|]|[\p{Cc}\p{Cf}\p{Cs}\p{Co}\p{Cn}\p{Zl}\p{Zp}]/gu;
/** Maximum length of a folder name or stem, in bytes of UTF-8. Endings and temporary names come on top; file systems allow 255. */
const MAX_BYTES = 150;

/** Fields of a naming pattern. */
const NAME_FIELDS = ["folder", "stem", "ext", "material"] as const;
export type NameFields = Readonly<Record<(typeof NAME_FIELDS)[number], string>>;

/** One folder for each upload, inside its original folders. */
export const DEFAULT_PATTERN = "{folder}/{stem}/{stem}";

/** The fault of a pattern, in words; undefined for a good one. */
export function patternFault(pattern: string): string | undefined {
  const unknown = [...pattern.matchAll(/\{([^}]*)\}/g)].find(
    ([, field]) => !(NAME_FIELDS as readonly string[]).includes(field),
  );
  if (unknown) return `there is no field ${unknown[0]}`;
  if (!pattern.includes("{stem}")) return "{stem} is missing, and every upload would have the same name";
  return /^([\\/]|[a-z]:)|(^|[\\/])\.\.([\\/]|$)/i.test(pattern) ? "it leads out of the folder" : undefined;
}

/** A name that every file system accepts, without hidden characters and without a path. */
export function safeName(name: string): string {
  const plain = name
    .normalize("NFC")
    .replace(FORBIDDEN, "_")
    .replace(/^[. ]+|(?<![. ])[. ]+$/g, "_");
  const known = RESERVED.test(plain) ? `_${plain}` : plain || "_";
  if (Buffer.byteLength(known) <= MAX_BYTES) return known;
  let short = "";
  for (const character of known) {
    if (Buffer.byteLength(short + character) > MAX_BYTES - 9) break;
    short += character;
  }
  return `${short}-${shortHash(name)}`;
}

/** The path of an upload's files below the output folder, without endings, parts joined by "/". */
export function outputPath(pattern: string, fields: NameFields): string {
  const parts = pattern.split(/[\\/]/).flatMap((part) => {
    // The folder of an upload may have several parts.
    if (part === "{folder}") return fields.folder.split("/").map(safeName);
    return [safeName(part.replace(/\{([^}]*)\}/g, (_, field: keyof NameFields) => fields[field]))];
  });
  const kept = parts.filter((part, i) => part !== "_" || i === parts.length - 1);
  return kept.join("/");
}

/** The folder for files of uploads that are gone. */
export const SET_ASIDE = "set-aside";
/** The folder for what was decided at the desk. */
export const DECISIONS = "decisions";
/** The folder for the small pictures of the page. */
export const THUMBNAILS = "thumbnails";
/** The folder for boards. */
export const BOARDS = "boards";
/** Files that the batch itself writes into its folder, and those folders. */
const OWN_NAMES = ["batch.csv", "batch.json", "index.html", SET_ASIDE, DECISIONS, THUMBNAILS, BOARDS];

/**
 * A path for each upload. No two are the same, even on a file system that ignores case and accents, and no folder has the name of a
 * file. Uploads with the same path get an ending made from their own name, so the order of uploads does not matter.
 *
 * @param wanted output path by upload
 */
export function distinctPaths(wanted: ReadonlyMap<string, string>): Map<string, string> {
  const counts = new Map<string, number>();
  for (const path of wanted.values()) counts.set(folded(path), (counts.get(folded(path)) ?? 0) + 1);
  const distinct = [...wanted].map(([upload, path]) => {
    const isAlone = counts.get(folded(path)) === 1;
    return [upload, isAlone ? path : withEnding(path, `-${shortHash(upload)}`)] as const;
  });
  const taken = new Set(distinct.map(([, path]) => folded(path)));
  return new Map(distinct.map(([upload, path]) => [upload, withFreeFolders(path, taken)]));
}

const folded = (path: string): string => path.normalize("NFKD").toLowerCase();

/** The same path with other names for folders that would stand where a file of the batch or of an upload goes. */
function withFreeFolders(path: string, taken: ReadonlySet<string>): string {
  const parts = path.split("/");
  const last = parts.length - 1;
  return parts
    .map((part, i) => {
      if (i === last) return part;
      const folder = folded(parts.slice(0, i + 1).join("/"));
      return isFileOfOthers(folder, taken) ? `${part}-${shortHash(folder)}` : part;
    })
    .join("/");
}

/** The files of an upload are called its path, a dot and more. */
function isFileOfOthers(folder: string, taken: ReadonlySet<string>): boolean {
  if (OWN_NAMES.includes(folder)) return true;
  const start = folder.lastIndexOf("/") + 1;
  for (let dot = folder.indexOf(".", start); dot >= 0; dot = folder.indexOf(".", dot + 1)) {
    if (taken.has(folder.slice(0, dot))) return true;
  }
  return false;
}

/** Add the ending to the last part, and to its folder if that has the same name. */
function withEnding(path: string, ending: string): string {
  const parts = path.split("/");
  const last = parts[parts.length - 1];
  return parts.map((part, i) => (part === last && i >= parts.length - 2 ? part + ending : part)).join("/");
}

const shortHash = (text: string): string => sha256(text).slice(0, 10);
