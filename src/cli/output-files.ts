import { mkdir, rename, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { SpotpitchError } from "../core/errors.js";

export interface OutputFile {
  readonly name: string;
  readonly content: Uint8Array | string;
}

/**
 * Write all files of a job or none: each under a temporary name first, renamed only when the last one is complete.
 * The folder is made if missing. Throws `OUTPUT_UNWRITABLE`.
 */
export async function writeAllOrNone(folder: string, files: readonly OutputFile[]): Promise<string[]> {
  await makeFolder(folder);
  const planned = files.map(({ name, content }) => ({
    path: join(folder, name),
    temporary: join(folder, `.${name}.${process.pid}.part`),
    content,
  }));
  try {
    for (const { temporary, content } of planned) await writeFile(temporary, content, { flag: "wx" });
    for (const { temporary, path } of planned) await rename(temporary, path);
  } catch (error) {
    await Promise.all(planned.map(({ temporary }) => rm(temporary, { force: true })));
    throw unwritable(folder, error);
  }
  return planned.map(({ path }) => path);
}

/** Make the folder if missing and see that it can be written to, before any long work. */
export async function makeFolder(folder: string): Promise<void> {
  const probe = join(folder, `.spotpitch.${process.pid}.part`);
  try {
    await mkdir(folder, { recursive: true });
    await writeFile(probe, "");
    await rm(probe);
  } catch (error) {
    throw unwritable(folder, error);
  }
}

function unwritable(folder: string, cause: unknown): SpotpitchError {
  const why = cause instanceof Error && "code" in cause ? String(cause.code) : String(cause);
  return new SpotpitchError(
    "OUTPUT_UNWRITABLE",
    `Cannot write to ${folder} (${why}); nothing was written. Choose another folder with --out.`,
    {
      option: "out",
      received: folder,
      cause,
    },
  );
}
