import { dirname, extname, posix, resolve } from "node:path";
import Papa from "papaparse";
import { MAX_COPIES } from "../../board/board-options.js";
import type { SpotpitchError } from "../../core/errors.js";
import { type Flag, isSwitch } from "../flags.js";
import { parseJson, readInputFile } from "../input-files.js";
import { type OptionRow, writeNotes } from "../read-options.js";
import { refusedSheet } from "../refusals.js";
import type { Upload } from "./inputs.js";
import { type Column, columnOf, meaningOf } from "./sheet-columns.js";
import { sheetText } from "./sheet-text.js";

/** A row of a job sheet: a piece of one file, and its options. */
export interface SheetRow extends OptionRow {
  /** Empty if the row names none; it then has a fault. */
  readonly file: string;
  /** Tells the pieces of one file apart. */
  readonly name?: string;
  readonly note?: string;
  /** How many of the piece are wanted. */
  readonly quantity?: number;
  /** Columns of the shop's own, by their heads. */
  readonly columns?: Readonly<Record<string, string>>;
  /** Why the row cannot be used. */
  readonly fault?: SpotpitchError;
}

const YES = /^(yes|true|1|x)$/i;
const NO = /^(no|false|0)$/i;

/**
 * Read a job sheet: CSV with a column `file`, or JSON with a list of objects. Other columns are `name`, `note`, `quantity`, names of
 * options, and any that the shop needs for itself. Empty cells are ignored. A sheet that cannot be understood is refused here. A cell that
 * cannot be used makes a row with a fault, and a wrong value of an option is found later: both refuse one upload only.
 *
 * @throws SpotpitchError `INPUT_MISSING`, `INPUT_UNREADABLE`, `INPUT_SHEET_INVALID`
 */
export async function readSheet(sheet: string): Promise<SheetRow[]> {
  const read = sheetText(await readInputFile(sheet, "job sheet"));
  if (!read) throw refusedSheet.notText(sheet);
  if (read.isGuessed) {
    writeNotes([
      `${sheet} is not UTF-8 text. It is read as Windows-1252, the encoding of Western Europe. Check letters with accents, or save the sheet as "CSV UTF-8".`,
    ]);
  }
  const isJson = extname(sheet).toLowerCase() === ".json";
  const rows = isJson ? jsonRows(read.text, sheet) : csvRows(read.text, sheet);
  return rows.map((row) => ({ ...sheetRow(row, `row ${row.number} of ${sheet}`), folder: dirname(sheet) }));
}

/** The files that a sheet names, below its own folder. They need not exist. */
export function sheetUploads(sheet: string, rows: readonly SheetRow[]): Upload[] {
  const files = new Set(rows.map(({ file }) => file).filter((file) => file !== "" && !leadsOut(file)));
  const uploads = [...files].map((file) => ({
    id: file,
    path: resolve(dirname(sheet), file),
    below: dirname(sheet),
  }));
  return uploads.sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** The rows of a sheet that names the uploads: a file outside the sheet's folder is a fault of its row. */
export const rowsInside = (rows: readonly SheetRow[]): SheetRow[] =>
  rows.map((row) =>
    leadsOut(row.file) ? { ...row, fault: refusedSheet.outside(row.file, row.where) } : row,
  );

const leadsOut = (file: string): boolean => /^([\\/]|[a-z]:)/i.test(file) || file.split("/").includes("..");

/** A path in the form of ids, on every system: "/" between parts, no "./" before. */
const tidy = (file: string): string =>
  posix.normalize(file.trim().replaceAll("\\", "/")).replace(/^\.\//, "");

interface Row {
  /** From 1, as a spreadsheet counts. In CSV the head is row 1. */
  readonly number: number;
  readonly cells: readonly (readonly [Column, unknown])[];
  /** A cell under no head. */
  readonly stray?: string | undefined;
  /** Whether "80,5" is a number. */
  readonly hasDecimalCommas?: boolean;
}

function sheetRow({ cells, stray, hasDecimalCommas = false }: Row, where: string): Omit<SheetRow, "folder"> {
  const filled = cells.filter(([, value]) => value !== "" && value !== null && value !== undefined);
  const textOf = (is: Column["is"]): string | undefined => {
    const cell = filled.find(([column]) => column.is === is);
    return cell && (is === "file" && typeof cell[1] !== "string" ? undefined : String(cell[1]).trim());
  };
  const values: Record<string, unknown> = {};
  const columns: Record<string, string> = {};
  let fault: SpotpitchError | undefined =
    stray === undefined ? undefined : refusedSheet.noColumnName(where, stray);
  for (const [column, value] of filled) {
    if (column.is === "own")
      columns[column.head] = typeof value === "object" ? JSON.stringify(value) : String(value);
    if (column.is !== "option") continue;
    const { flag, name } = column;
    if (!isSwitch(flag)) values[name] = hasDecimalCommas ? withPoint(value, flag) : value;
    else if (yesOrNo(value) !== undefined) values[name] = yesOrNo(value);
    else fault ??= refusedSheet.notYesOrNo(name, where, value);
  }
  const [file, name, note, asked] = (["file", "name", "note", "quantity"] as const).map(textOf);
  const quantity = asked === undefined ? undefined : quantityOf(asked);
  if (!file) fault = refusedSheet.noFile(where);
  else if (asked !== undefined && quantity === undefined) fault ??= refusedSheet.notAQuantity(where, asked);
  return {
    ...{ file: file ? tidy(file) : "", where, values },
    ...(name && { name }),
    ...(note && { note }),
    ...(quantity !== undefined && { quantity }),
    ...(Object.keys(columns).length > 0 && { columns }),
    ...(fault && { fault }),
  };
}

function quantityOf(text: string): number | undefined {
  const quantity = /^\d+$/.test(text) ? Number(text) : 0;
  return quantity >= 1 && quantity <= MAX_COPIES ? quantity : undefined;
}

function csvRows(text: string, sheet: string): Row[] {
  // Some spreadsheets write the delimiter into a first line of its own: "sep=;".
  const told = /^\ufeff?sep=([^\r\n])[\r\n]/i.exec(text);
  // A sheet of one column needs no delimiter. Empty lines would mislead the guess, and count as rows.
  const guess = Papa.parse(text, {
    skipEmptyLines: "greedy",
    preview: 20,
    delimitersToGuess: [",", ";", "\t"],
  });
  const delimiter = told?.[1] ?? guess.meta.delimiter;
  const { data, errors } = Papa.parse<string[]>(text, { delimiter, transform: (cell) => cell.trim() });
  const [error] = errors;
  if (error) throw refusedSheet.unreadableRow(`row ${(error.row ?? 0) + 1} of ${sheet}`, error.message);
  // Rows keep their numbers, although empty ones are left out.
  const filled = data
    .map((cells, i) => ({ cells, number: i + 1 }))
    .filter(({ cells, number }) => cells.some((cell) => cell !== "") && !(told && number === 1));
  const [{ cells: head } = { cells: [] }, ...rows] = filled;
  const heads = head.map((name) => name.replace(/^\ufeff/, ""));
  const columns = heads.map((name) => (name === "" ? undefined : columnOf(name, sheet)));
  checkColumns(columns, sheet);
  if (!columns.some((column) => column?.is === "file")) throw refusedSheet.noFileColumn(sheet);
  return rows.map(({ cells, number }) => ({
    number,
    stray: cells.find((cell, i) => cell !== "" && !columns[i]),
    cells: cells.flatMap((cell, i) => {
      const column = columns[i];
      return column ? [[column, cell] as const] : [];
    }),
    hasDecimalCommas: delimiter !== ",",
  }));
}

/** Throws for two columns that mean the same. */
function checkColumns(columns: readonly (Column | undefined)[], where: string): void {
  const seen = new Set<string>();
  for (const column of columns) {
    if (!column) continue;
    const meaning = meaningOf(column);
    if (seen.has(meaning)) throw refusedSheet.columnTwice(where, meaning.replace(/^own /, ""));
    seen.add(meaning);
  }
}

function jsonRows(text: string, sheet: string): Row[] {
  const content = parseJson(text.replace(/^\ufeff/, ""), sheet, "job sheet");
  const isObject = (row: unknown): row is Record<string, unknown> =>
    typeof row === "object" && row !== null && !Array.isArray(row);
  if (!Array.isArray(content) || !content.every(isObject)) throw refusedSheet.notAList(sheet);
  const columns = new Map<string, Column>();
  const known = (name: string): Column => {
    const column = columns.get(name) ?? columnOf(name, sheet);
    columns.set(name, column);
    return column;
  };
  return content.map((row, i) => {
    const cells = Object.entries(row).map(([name, value]) => [known(name), value] as const);
    checkColumns(
      cells.map(([column]) => column),
      `row ${i + 1} of ${sheet}`,
    );
    return { number: i + 1, cells };
  });
}

/** A value with decimal commas, as it is unless only a decimal point makes it readable: `10%,5%,80%,60%` keeps its commas. */
function withPoint(value: unknown, { option, parse, takes }: Flag): unknown {
  const isReadable = (text: string): boolean => {
    try {
      return takes(parse(option, text));
    } catch {
      return false;
    }
  };
  const text = String(value);
  const pointed = text.replace(/(\d),(?=\d)/g, "$1.");
  return !isReadable(text) && isReadable(pointed) ? pointed : value;
}

function yesOrNo(value: unknown): boolean | undefined {
  if (typeof value === "boolean") return value;
  if (YES.test(String(value))) return true;
  return NO.test(String(value)) ? false : undefined;
}
