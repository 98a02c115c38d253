import { sha256 } from "../../batch/sha256.js";

/** The same text for the same content in any order of its keys. Bytes of files become hashes. */
export const stableJson = (value: unknown): string =>
  JSON.stringify(value, (_key, part: unknown) => {
    if (part instanceof Uint8Array) return sha256(part);
    if (typeof part !== "object" || part === null || Array.isArray(part)) return part;
    return Object.fromEntries(Object.entries(part).sort(([a], [b]) => (a < b ? -1 : 1)));
  });
