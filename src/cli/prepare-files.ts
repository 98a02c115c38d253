import { basename, extname } from "node:path";
import type * as z from "zod";
import { reportJson } from "../6-report/files/report-json.js";
import type { prepareCommandSchema } from "../board/board-options.js";
import type { Ground } from "../board/lay-boards.js";
import { refusal } from "../core/refusals/refusals.js";
import { optionsOfPiece } from "../options/of-piece.js";
import type { ResolvedOptions } from "../options/options.js";
import type { BegunPhoto } from "../pipeline/decoding.js";
import { commandOptions } from "./flags.js";
import { boardFilesOf } from "./old-boards.js";
import { checkFolder } from "./output-files.js";
import type { CopiedPiece, WrittenCopies } from "./prepare-boards.js";
import { createProgress } from "./progress.js";
import { readOptions, writeNotes } from "./read-options.js";
import type { PhotoRequest } from "./request.js";
import { summaryOf } from "./summary.js";
import { print } from "./terminal.js";
import { writePiece } from "./write-piece.js";

/**
 * Read the options, prepare the photo, write all files or none, print the summary.
 *
 * @param decoded the photo, if decoding has already started
 */
export async function prepareFiles(
  request: PhotoRequest,
  reading: Promise<Uint8Array>,
  decoded: BegunPhoto | undefined,
): Promise<void> {
  const asked = await readOptions(commandOptions.prepare, request.typed, request);
  const options = optionsOfPiece(asked.options);
  writeNotes(asked.notes);
  const out = request.out ?? asked.out ?? ".";
  const { resolveOptions } = await import("../options/options.js");
  const resolved = resolveOptions(options);
  const stem = basename(request.photo, extname(request.photo));
  const fileName = basename(request.photo);
  const ground = await groundFor(asked.options, resolved, fileName);
  const photo = await reading;
  await checkFolder(out);

  const progress = createProgress(process.stderr);
  try {
    const { report, written } = await writePiece({
      folder: out,
      stem,
      photo: decoded ?? photo,
      options,
      asGiven: asked,
      fileName,
      onProgress: progress.show,
    });
    const { copies = 1 } = asked.options;
    const boards = await writeBoards(
      { folder: out, stem, fileName, report, written, resolved, copies },
      ground,
    );
    progress.clear();
    const summary = summaryOf(report, [...written, ...boards.files], resolved, boards.lines);
    print(request.json ? reportJson(report) : `${summary}\n`);
  } finally {
    progress.clear();
  }
}

type CommandOptions = z.input<typeof prepareCommandSchema>;

/** On what the copies are laid. The code of boards is loaded only for them. Throws `OPTION_CONFLICT` and `INPUT_*`. */
async function groundFor(
  options: CommandOptions,
  { wrap }: ResolvedOptions,
  name: string,
): Promise<Ground | undefined> {
  const { copies = 1, boardSizeMm, boardGapMm, boardMarginMm, jig } = options;
  if ([boardSizeMm, boardGapMm, boardMarginMm, jig].every((each) => each === undefined)) {
    if (copies > 1) throw refusal("copies-without-board", {});
    return undefined;
  }
  const { groundOf, idleBoardWords } = await import("./boards.js");
  writeNotes(idleBoardWords(options));
  const ground = await groundOf(options);
  if (!ground && copies > 1) throw refusal("copies-without-board", {});
  if (ground && wrap) throw refusal("board-of-round-piece", { name });
  return ground;
}

async function writeBoards(copied: CopiedPiece, ground: Ground | undefined): Promise<WrittenCopies> {
  if (ground) return (await import("./prepare-boards.js")).writeCopies(copied, ground);
  const old = await boardFilesOf(copied.folder, copied.stem);
  if (old.length > 0) {
    writeNotes([`${old.join(", ")}: of an earlier run. They show the piece as it was then; delete them.`]);
  }
  return { lines: [], files: [] };
}
