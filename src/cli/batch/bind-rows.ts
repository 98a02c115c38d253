import { basename } from "node:path";
import type { FromSheet } from "../../batch/lists.js";
import type { ErrorCode, SpotpitchError } from "../../core/errors.js";
import { refused, refusedSheet } from "../refusals.js";
import type { Upload } from "./inputs.js";
import type { SheetRow } from "./sheet.js";

/** A piece that is wanted of an upload. */
export interface BoundPiece {
  /** With an id of its own if its row has a name: `boat.jpg [small]`. */
  readonly upload: Upload;
  /** The id of the file. */
  readonly file: string;
  /** Undefined if no row names the file. */
  readonly row: SheetRow | undefined;
}

/** An upload that is refused before its file is read. */
export interface Unfit {
  readonly id: string;
  readonly code: ErrorCode;
  readonly message: string;
  readonly fromSheet: FromSheet;
}

/** Rows and uploads brought together. */
export interface BoundRows {
  readonly pieces: readonly BoundPiece[];
  readonly unfit: Unfit[];
  /** Uploads that no row of the job sheet names. */
  readonly waiting: readonly Upload[];
}

/** What of a row is only passed on to the lists. */
export const fromSheetOf = (file: string, row: SheetRow | undefined): FromSheet => ({
  ...(row?.name !== undefined && { upload: file, piece: row.name }),
  ...(row?.quantity !== undefined && { quantity: row.quantity }),
  ...(row?.note !== undefined && { note: row.note }),
  ...(row?.columns && { columns: row.columns }),
});

/**
 * Find the upload of each row. One file may have several rows, each with a name: each is a piece. A row that cannot be used is refused,
 * and the others are not affected.
 *
 * @param rows of the job sheet; undefined if there is none
 * @param unlisted what happens to uploads that no row names
 */
export function bindRows(
  uploads: readonly Upload[],
  rows: readonly SheetRow[] | undefined,
  unlisted: "wait" | "prepare",
): BoundRows {
  const ids = new Set(uploads.map(({ id }) => id));
  const uploadFor = uploadFinder(uploads);
  const named = new Set<string>();
  const groups = new Map<string, { readonly upload: Upload | undefined; readonly rows: SheetRow[] }>();
  for (const row of rows ?? []) {
    const upload = row.file === "" ? undefined : uploadFor(row.file);
    if (upload) named.add(upload.id);
    const id = row.file === "" ? row.where : pieceId(upload?.id ?? row.file, row.name);
    const group = groups.get(id);
    if (group) group.rows.push(row);
    else groups.set(id, { upload, rows: [row] });
  }
  const pieces: BoundPiece[] = [];
  const unfit: Unfit[] = [];
  for (const [id, { upload, rows: own }] of groups) {
    const [row] = own;
    const fault = faultOf(id, upload, own, ids);
    const fromSheet = fromSheetOf(upload?.id ?? row.file, row);
    if (fault) unfit.push({ id, code: fault.code, message: fault.message, fromSheet });
    else if (upload) pieces.push({ upload: { ...upload, id }, file: upload.id, row });
  }
  const others = uploads.filter(({ id }) => !named.has(id));
  const waits = rows !== undefined && unlisted === "wait";
  if (!waits) pieces.push(...others.map((upload) => ({ upload, file: upload.id, row: undefined })));
  return { pieces, unfit, waiting: waits ? others : [] };
}

const pieceId = (file: string, name: string | undefined): string =>
  name === undefined ? file : `${file} [${name}]`;

function faultOf(
  id: string,
  upload: Upload | undefined,
  rows: readonly SheetRow[],
  uploads: ReadonlySet<string>,
): SpotpitchError | undefined {
  const [{ file, name, where, fault }] = rows;
  if (rows.length > 1) {
    return refusedSheet.pieceTwice(
      id,
      rows.map((each) => each.where),
    );
  }
  if (fault) return fault;
  if (!upload) return refused.notUploaded(file, where);
  return name !== undefined && uploads.has(id) ? refusedSheet.nameTaken(id, where) : undefined;
}

const asWritten = (text: string): string => text.normalize("NFC");
const folded = (text: string): string => asWritten(text).toLowerCase();

/**
 * Finds the upload with a path, or the only one with a name; capital letters count only where they tell uploads apart. The uploads are
 * looked through once, for sheets of thousands of rows.
 */
function uploadFinder(uploads: readonly Upload[]): (file: string) => Upload | undefined {
  const ways = [asWritten, folded].flatMap((form) =>
    [(id: string) => id, (id: string) => basename(id)].map((nameOf) => {
      const byName = new Map<string, Upload | undefined>();
      for (const upload of uploads) {
        const name = form(nameOf(upload.id));
        byName.set(name, byName.has(name) ? undefined : upload);
      }
      return (file: string): Upload | undefined => byName.get(form(file));
    }),
  );
  return (file) => {
    for (const find of ways) {
      const found = find(file);
      if (found) return found;
    }
    return undefined;
  };
}
