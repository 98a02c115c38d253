import { existsSync, readdirSync } from "node:fs";
import { mkdir, rename, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { deskPage } from "../../batch/desk/desk-page.js";
import type { PassResult, Verdict } from "../../batch/lists.js";
import { batchCsv, batchJson } from "../../batch/lists.js";
import { THUMBNAILS } from "../../batch/output-names.js";
import { THUMBNAIL_NAME, thumbnailName } from "../../batch/thumbnail.js";
import { openOutputSet } from "../output-files.js";

/** Write `batch.json`, `batch.csv` and `index.html`, first into the folder for unfinished files, then into their places. */
export async function writePages(result: PassResult, out: string, work: string): Promise<void> {
  const { verdicts } = result;
  const folder = join(work, "pages");
  await mkdir(folder, { recursive: true });
  const thumbnails = await writeThumbnails(verdicts, out, folder);
  const pages = {
    "batch.json": batchJson(result),
    "batch.csv": batchCsv(verdicts),
    "index.html": deskPage(verdicts.map(deskUpload), result),
  };
  const files = await openOutputSet(folder, Object.keys(pages));
  for (const [name, text] of Object.entries(pages)) await files.write(name, text);
  await files.complete();
  for (const name of Object.keys(pages)) await rename(join(folder, name), join(out, name));
  // Those of uploads that are not listed yet may be there from an earlier run.
  if (!result.remaining) await removeOthers(join(out, THUMBNAILS), thumbnails);
}

const deskUpload = ({ entry, thumbnail, photo }: Verdict) => ({
  entry,
  prediction: thumbnail && `${THUMBNAILS}/${thumbnailName(thumbnail)}`,
  photo: photo && `${THUMBNAILS}/${thumbnailName(photo)}`,
});

/** Write the small pictures that are not there yet. A name stands for one content, so those of earlier runs stay. Returns their names. */
async function writeThumbnails(
  verdicts: readonly Verdict[],
  out: string,
  work: string,
): Promise<ReadonlySet<string>> {
  const folder = join(out, THUMBNAILS);
  const there = new Set(existsSync(folder) ? readdirSync(folder) : []);
  const wanted = new Set<string>();
  for (const picture of verdicts.flatMap(({ thumbnail, photo }) => [thumbnail, photo])) {
    if (!picture) continue;
    const name = thumbnailName(picture);
    wanted.add(name);
    if (there.has(name)) continue;
    await mkdir(folder, { recursive: true });
    await writeFile(join(work, name), Buffer.from(picture, "base64"));
    await rename(join(work, name), join(folder, name));
    there.add(name);
  }
  return wanted;
}

/** Remove small pictures that no upload has any more. Files of other names are the user's. */
async function removeOthers(folder: string, wanted: ReadonlySet<string>): Promise<void> {
  if (!existsSync(folder)) return;
  for (const name of readdirSync(folder)) {
    if (THUMBNAIL_NAME.test(name) && !wanted.has(name)) await rm(join(folder, name), { force: true });
  }
}
