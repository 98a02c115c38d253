import type { UploadEntry } from "../entry.js";

/**
 * The other uploads with the same content, by upload. Names do not count: a camera gives the same one twice, and two orders may share
 * a picture.
 */
export function duplicatesOf(entries: readonly UploadEntry[]): Map<string, readonly string[]> {
  const byContent = new Map<string, string[]>();
  for (const { file, state, contentSha256 } of entries) {
    if (contentSha256 === undefined || state === "withdrawn") continue;
    const same = byContent.get(contentSha256);
    if (same) same.push(file);
    else byContent.set(contentSha256, [file]);
  }
  const several = [...byContent.values()].filter((files) => files.length > 1);
  return new Map(
    several.flatMap((files) => files.map((file) => [file, files.filter((other) => other !== file)] as const)),
  );
}
