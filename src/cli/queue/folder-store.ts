import { randomUUID } from "node:crypto";
import { mkdir, open, readdir, realpath, rename, rm, rmdir, stat } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { SpotpitchError } from "../../core/errors.js";
import { fileAgeMs } from "../batch/file-signature.js";
import { readUpload } from "../batch/read-upload.js";
import { refusedQueue } from "./refusals.js";
import { checkedName, type Store } from "./store.js";

/** Nobody writes one file for so long. */
const OLD_MS = 24 * 3600 * 1000;

/**
 * A folder that all computers see. A file appears under its name only when it is complete, also to other computers, and no link in it
 * is followed. The folder itself must be there: one that is made would hide that a disk is not mounted. Throws `OPTION_INVALID`.
 */
export async function openFolderStore(place: string): Promise<Store> {
  const root = await realpath(resolve(place)).catch((cause) => {
    throw refusedQueue.noStoreFolder(place, cause);
  });
  const unfinished = join(root, "unfinished");
  await removeOld(unfinished);
  const pathOf = (name: string): string => join(root, checkedName(name));
  return {
    place,
    has: async (name) => (await stat(pathOf(name)).catch(() => undefined))?.isFile() ?? false,
    async get(name, maxBytes) {
      try {
        return await readUpload({ id: name, path: pathOf(name), below: root }, maxBytes);
      } catch (error) {
        if (error instanceof SpotpitchError && error.code === "INPUT_MISSING") return undefined;
        throw error;
      }
    },
    async put(name, bytes) {
      const path = pathOf(name);
      await folderInside(root, dirname(path));
      await folderInside(root, unfinished);
      const temporary = join(unfinished, randomUUID());
      await writeWhole(temporary, bytes);
      await rename(temporary, path).catch(async (error) => {
        // Another computer has just removed the folder of an earlier result.
        await folderInside(root, dirname(path));
        await rename(temporary, path).catch(() => {
          throw error;
        });
      });
    },
    async remove(name) {
      const path = pathOf(name);
      await rm(path, { force: true });
      // Only once it is empty.
      if (name.startsWith("results/")) await rmdir(dirname(path)).catch(() => {});
    },
  };
}

/** Files of somebody who was killed while writing them. */
async function removeOld(folder: string): Promise<void> {
  for (const name of await readdir(folder).catch(() => [])) {
    const path = join(folder, name);
    if ((await fileAgeMs(path)) > OLD_MS) await rm(path, { force: true });
  }
}

/** Make a folder, and refuse it if a link leads out of the store. */
async function folderInside(root: string, folder: string): Promise<void> {
  await mkdir(folder, { recursive: true });
  if ((await realpath(folder)) !== folder) throw refusedQueue.storeFails(root, new Error("a link leads out"));
}

/** On the disk before it gets its name: the name alone must not survive a loss of power. */
async function writeWhole(path: string, bytes: Uint8Array): Promise<void> {
  const file = await open(path, "wx");
  try {
    await file.writeFile(bytes);
    await file.sync();
  } catch (error) {
    await rm(path, { force: true });
    throw error;
  } finally {
    await file.close();
  }
}
