import { SpotpitchError } from "../../core/errors.js";
import { writeNotes } from "../read-options.js";
import { refusedSheet } from "../refusals.js";
import { fileSignature } from "./file-signature.js";
import { readSheet, rowsInside, type SheetRow } from "./sheet.js";

/** A job sheet that people may edit while a batch watches. */
export interface LiveSheet {
  /** The rows as they are now. If the sheet cannot be read, those of the last time count, and a note says so. */
  readonly rows: () => Promise<readonly SheetRow[]>;
}

/**
 * Read a job sheet for the first time. Throws what `readSheet` throws, and `INPUT_SHEET_INVALID` for one without rows.
 *
 * @param namesUploads true if there are no other uploads than those that it names
 */
export async function openSheet(path: string, namesUploads: boolean): Promise<LiveSheet> {
  const readNow = async (): Promise<SheetRow[]> => {
    const rows = await readSheet(path);
    if (rows.length === 0) throw refusedSheet.noRows(path);
    return namesUploads ? rowsInside(rows) : rows;
  };
  let seen = await fileSignature(path);
  let last = await readNow();
  return {
    async rows() {
      const signature = await fileSignature(path);
      if (signature === seen) return last;
      seen = signature;
      try {
        last = await readNow();
      } catch (error) {
        if (!(error instanceof SpotpitchError)) throw error;
        writeNotes([
          `The job sheet cannot be read now, so its last readable state counts: ${error.message} Correct the sheet; then it is read again.`,
        ]);
      }
      return last;
    },
  };
}
