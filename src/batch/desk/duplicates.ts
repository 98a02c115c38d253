import type { UploadEntry } from "../entry.js";

/**
 * The other uploads with the same content, by upload. Names do not count: a camera gives the same one twice, and two orders may share
 * a picture. Several pieces of one upload are none: the job sheet asks for them.
 */
export function duplicatesOf(entries: readonly UploadEntry[]): Map<string, readonly string[]> {
  const byContent = new Map<string, UploadEntry[]>();
  for (const entry of entries) {
    const { state, contentSha256 } = entry;
    if (contentSha256 === undefined || state === "withdrawn") continue;
    const same = byContent.get(contentSha256);
    if (same) same.push(entry);
    else byContent.set(contentSha256, [entry]);
  }
  const found = [...byContent.values()].flatMap((same) =>
    same.map((entry) => {
      const others = same.filter((other) => uploadOf(other) !== uploadOf(entry));
      return [entry.file, others.map(({ file }) => file)] as const;
    }),
  );
  return new Map(found.filter(([, others]) => others.length > 0));
}

const uploadOf = ({ upload, file }: UploadEntry): string => upload ?? file;
