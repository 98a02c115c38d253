import { readdir } from "node:fs/promises";

/** Files of boards that an earlier run made of the same photo. */
export async function boardFilesOf(folder: string, stem: string): Promise<string[]> {
  const names = await readdir(folder).catch(() => []);
  return names.filter(
    (name) =>
      name.startsWith(`${stem}.board-`) &&
      /^\.board-\d+\.(burn\.[a-z]+|preview\.png|json)$/.test(name.slice(stem.length)),
  );
}
