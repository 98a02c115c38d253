import { dirname, extname, normalize, resolve } from "node:path";
import Papa from "papaparse";
import { listWords } from "../../core/words.js";
import { flagNamed, pieceFlags as flags, isSwitch, namesOf } from "../flags.js";
import { parseJson, readInputFile } from "../input-files.js";
import { answerTo } from "../other-names.js";
import type { OptionRow } from "../read-options.js";
import { refused, refusedSheet } from "../refusals.js";
import type { Upload } from "./inputs.js";

/** A row of a job sheet: one file and its options. */
export interface SheetRow extends OptionRow {
  readonly file: string;
  readonly note?: string;
}

const YES = /^(yes|true|1|x)$/i;
const NO = /^(no|false|0)$/i;

/**
 * Read a job sheet: CSV with the columns `file`, `note` and names of options, or JSON with a list of such objects. Empty cells are
 * ignored. A sheet that cannot be understood is refused here. A wrong value of an option is found later and refuses its upload
 * only.
 *
 * @throws SpotpitchError `INPUT_MISSING`, `INPUT_UNREADABLE`, `INPUT_SHEET_INVALID`
 */
export async function readSheet(sheet: string): Promise<SheetRow[]> {
  const text = textOf(await readInputFile(sheet, "job sheet"), sheet);
  const rows = extname(sheet).toLowerCase() === ".json" ? jsonRows(text, sheet) : csvRows(text, sheet);
  const seen = new Map<string, string>();
  return rows.map(({ number, cells }) => {
    const where = `row ${number} of ${sheet}`;
    const { file, note, ...rest } = cells;
    if (typeof file !== "string" || file.trim() === "") throw refusedSheet.noFile(where);
    const name = tidy(file);
    const before = seen.get(name);
    if (before !== undefined) throw refusedSheet.fileTwice(name, before, where);
    seen.set(name, where);
    const values: Record<string, unknown> = {};
    for (const [key, value] of Object.entries(rest)) {
      const flag = flagNamed(flags, key);
      if (!flag) {
        const at = { role: "job sheet", path: sheet, command: "batch" } as const;
        const answer = answerTo("batch", key, undefined, (settings) =>
          listWords(
            settings.map(([name]) => `"${name}"`),
            "and",
          ),
        );
        throw refused.unknownName(key, at, [...namesOf(flags), "file", "note"], answer);
      }
      if (value !== "" && value !== null) values[key] = isSwitch(flag) ? yesOrNo(value, key, where) : value;
    }
    return { file: name, where, values, ...(note ? { note: String(note) } : {}) };
  });
}

/**
 * The files that a sheet names, below its own folder. They need not exist. Throws `INPUT_SHEET_INVALID` for a file outside the
 * folder.
 */
export function sheetUploads(sheet: string, rows: readonly SheetRow[]): Upload[] {
  const uploads = rows.map(({ file, where }) => {
    if (/^([\\/]|[a-z]:)/i.test(file) || file.split("/").includes("..")) {
      throw refusedSheet.outside(file, where);
    }
    return { id: file, path: resolve(dirname(sheet), file) };
  });
  return uploads.sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** A path in the form of ids: "/" between parts, no "./" before. */
const tidy = (file: string): string => normalize(file.trim().replaceAll("\\", "/")).replace(/^\.\//, "");

interface Row {
  /** From 1. In CSV the head is row 1. */
  readonly number: number;
  readonly cells: Readonly<Record<string, unknown>>;
}

function csvRows(text: string, sheet: string): Row[] {
  const { data, errors } = Papa.parse<string[]>(text, {
    skipEmptyLines: "greedy",
    transform: (cell) => cell.trim(),
    delimitersToGuess: [",", ";", "\t"],
  });
  // A sheet of one column needs no delimiter.
  const error = errors.find(({ code }) => code !== "UndetectableDelimiter");
  if (error) throw refusedSheet.unreadableRow(`row ${(error.row ?? 0) + 1} of ${sheet}`, error.message);
  const [head = [], ...rows] = data;
  const names = head.map((name) => name.replace(/^\ufeff|^--/g, ""));
  const twice = names.find((name, i) => name !== "" && names.indexOf(name) !== i);
  if (twice !== undefined) throw refusedSheet.columnTwice(sheet, twice);
  if (!names.includes("file")) throw refusedSheet.noFileColumn(sheet);
  return rows.map((cells, i) => {
    const number = i + 2;
    const stray = cells.find((cell, column) => cell !== "" && !names[column]);
    if (stray !== undefined) throw refusedSheet.noColumnName(`row ${number} of ${sheet}`, stray);
    const named = names.map((name, column) => [name, cells[column] ?? ""] as const);
    return { number, cells: Object.fromEntries(named.filter(([name]) => name !== "")) };
  });
}

function jsonRows(text: string, sheet: string): Row[] {
  const content = parseJson(text, sheet, "job sheet");
  const isObject = (row: unknown): row is Record<string, unknown> =>
    typeof row === "object" && row !== null && !Array.isArray(row);
  if (!Array.isArray(content) || !content.every(isObject)) throw refusedSheet.notAList(sheet);
  return content.map((cells, i) => ({ number: i + 1, cells }));
}

function textOf(bytes: Uint8Array, sheet: string): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw refusedSheet.notText(sheet);
  }
}

function yesOrNo(value: unknown, key: string, where: string): boolean {
  if (typeof value === "boolean") return value;
  if (YES.test(String(value))) return true;
  if (NO.test(String(value))) return false;
  throw refusedSheet.notYesOrNo(key, where, value);
}
