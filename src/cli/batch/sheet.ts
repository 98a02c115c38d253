import { dirname, extname, normalize, resolve } from "node:path";
import Papa from "papaparse";
import { SpotpitchError } from "../../core/errors.js";
import { commandOptions, flagNamed, isSwitch, namesOf } from "../flags.js";
import { readInputFile } from "../input-files.js";
import { type OptionRow, unknownName } from "../read-options.js";
import type { Upload } from "./inputs.js";

/** A row of a job sheet: one file and what is wanted for it. */
export interface SheetRow extends OptionRow {
  readonly file: string;
  readonly note?: string;
}

const { flags } = commandOptions.prepare;
const YES = /^(yes|true|1|x)$/i;
const NO = /^(no|false|0)$/i;

/**
 * Read a job sheet: CSV with a head of `file`, `note` and names of options, or JSON with a list of such objects. Empty cells say
 * nothing. A value that an option does not take is that upload's affair; a sheet that cannot be understood is refused here.
 *
 * @throws SpotpitchError `INPUT_MISSING`, `INPUT_UNREADABLE`, `INPUT_SHEET_INVALID`
 */
export async function readSheet(sheet: string): Promise<SheetRow[]> {
  const text = textOf(await readInputFile(sheet, "job sheet"), sheet);
  const rows = extname(sheet).toLowerCase() === ".json" ? jsonRows(text, sheet) : csvRows(text, sheet);
  const seen = new Map<string, number>();
  return rows.map(({ number, cells }) => {
    const where = `row ${number} of ${sheet}`;
    const { file, note, ...rest } = cells;
    if (typeof file !== "string" || file.trim() === "") throw invalidSheet(`${where} does not name a file`);
    const name = tidy(file);
    const before = seen.get(name);
    if (before !== undefined) throw invalidSheet(`"${file}" is in rows ${before} and ${number} of ${sheet}`);
    seen.set(name, number);
    const values: Record<string, unknown> = {};
    for (const [key, value] of Object.entries(rest)) {
      const flag = flagNamed(flags, key);
      if (!flag) {
        const names = [...namesOf(flags), "file", "note"];
        throw new SpotpitchError("INPUT_SHEET_INVALID", unknownName(key, sheet, names, "batch"));
      }
      if (value !== "" && value !== null) values[key] = isSwitch(flag) ? yesOrNo(value, key, where) : value;
    }
    return { file: name, where, values, ...(note ? { note: String(note) } : {}) };
  });
}

/** The files that a sheet names, below its own folder, whether they are there or not. Throws `INPUT_SHEET_INVALID` for one that leads out of it. */
export function sheetUploads(sheet: string, rows: readonly SheetRow[]): Upload[] {
  const uploads = rows.map(({ file, where }) => {
    if (/^([\\/]|[a-z]:)/i.test(file) || file.split("/").includes("..")) {
      throw invalidSheet(`${where} leads out of the sheet's folder ("${file}")`);
    }
    return { id: file, path: resolve(dirname(sheet), file) };
  });
  return uploads.sort((a, b) => (a.id < b.id ? -1 : 1));
}

/** As ids are written: "/" between parts, no "./" before. */
const tidy = (file: string): string => normalize(file.trim().replaceAll("\\", "/")).replace(/^\.\//, "");

interface Row {
  /** As a person counts, the head included. */
  readonly number: number;
  readonly cells: Readonly<Record<string, unknown>>;
}

function csvRows(text: string, sheet: string): Row[] {
  const { data, errors } = Papa.parse<string[]>(text, {
    skipEmptyLines: "greedy",
    transform: (cell) => cell.trim(),
    delimitersToGuess: [",", ";", "\t"],
  });
  // One column only is no doubt about what divides columns.
  const error = errors.find(({ code }) => code !== "UndetectableDelimiter");
  if (error) throw invalidSheet(`row ${(error.row ?? 0) + 1} of ${sheet} cannot be read (${error.message})`);
  const [head = [], ...rows] = data;
  const names = head.map((name) => name.replace(/^\ufeff|^--/g, ""));
  const twice = names.find((name, i) => name !== "" && names.indexOf(name) !== i);
  if (twice !== undefined) throw invalidSheet(`${sheet} has two columns "${twice}"`);
  if (!names.includes("file")) throw invalidSheet(`${sheet} has no column "file"`);
  return rows.map((cells, i) => {
    const number = i + 2;
    const stray = cells.find((cell, column) => cell !== "" && !names[column]);
    if (stray !== undefined)
      throw invalidSheet(`row ${number} of ${sheet} has "${stray}" without a column name`);
    const named = names.map((name, column) => [name, cells[column] ?? ""] as const);
    return { number, cells: Object.fromEntries(named.filter(([name]) => name !== "")) };
  });
}

function jsonRows(text: string, sheet: string): Row[] {
  let content: unknown;
  try {
    content = JSON.parse(text);
  } catch (error) {
    throw invalidSheet(`${sheet} is not JSON (${String(error).replace(/\s+/g, " ")})`);
  }
  const isObject = (row: unknown): row is Record<string, unknown> =>
    typeof row === "object" && row !== null && !Array.isArray(row);
  if (!Array.isArray(content) || !content.every(isObject)) {
    throw invalidSheet(`${sheet} must hold a list of objects, one for each file`);
  }
  return content.map((cells, i) => ({ number: i + 1, cells }));
}

function textOf(bytes: Uint8Array, sheet: string): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw invalidSheet(`${sheet} is not UTF-8 text; save it as "CSV UTF-8"`);
  }
}

function yesOrNo(value: unknown, key: string, where: string): boolean {
  if (typeof value === "boolean") return value;
  if (YES.test(String(value))) return true;
  if (NO.test(String(value))) return false;
  throw invalidSheet(`"${key}" in ${where} takes yes or no; got "${value}"`);
}

export const invalidSheet = (what: string): SpotpitchError =>
  new SpotpitchError("INPUT_SHEET_INVALID", `The job sheet cannot be used: ${what.replace(/\.$/, "")}.`);
