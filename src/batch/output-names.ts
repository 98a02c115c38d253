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
    .replace(/^[. ]+|[. ]+$/g, "_");
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

/**
 * A path for each upload. No two are the same, even on a file system that ignores case and accents. Uploads with the same path get
 * an ending made from their own name, so the order of uploads does not matter.
 *
 * @param wanted output path by upload
 */
export function distinctPaths(wanted: ReadonlyMap<string, string>): Map<string, string> {
  const folded = (path: string): string => path.normalize("NFKD").toLowerCase();
  const counts = new Map<string, number>();
  for (const path of wanted.values()) counts.set(folded(path), (counts.get(folded(path)) ?? 0) + 1);
  return new Map(
    [...wanted].map(([upload, path]) => [
      upload,
      counts.get(folded(path)) === 1 ? path : withEnding(path, `-${shortHash(upload)}`),
    ]),
  );
}

/** Add the ending to the last part, and to its folder if that has the same name. */
function withEnding(path: string, ending: string): string {
  const parts = path.split("/");
  const last = parts[parts.length - 1];
  return parts.map((part, i) => (part === last && i >= parts.length - 2 ? part + ending : part)).join("/");
}

const shortHash = (text: string): string => sha256(text).slice(0, 10);
