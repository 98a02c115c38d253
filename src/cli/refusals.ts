import { MAX_COPIES } from "../board/board-options.js";
import { type ErrorCode, SpotpitchError } from "../core/errors.js";
import { didYouMean } from "../core/nearest-name.js";
import { listWords } from "../core/words.js";
import type { Command } from "../options/option.js";

/** Files with one JSON value or one table, and the code for a content that cannot be used. */
const INVALID = {
  "material file": "INPUT_MATERIAL_INVALID",
  "machine file": "INPUT_MACHINE_INVALID",
  "recipe of a card": "INPUT_CARD_UNREADABLE",
  "config file": "INPUT_CONFIG_INVALID",
  "words file": "INPUT_CONFIG_INVALID",
  "job sheet": "INPUT_SHEET_INVALID",
  "jig file": "INPUT_JIG_INVALID",
  "login file": "INPUT_CONFIG_INVALID",
} as const satisfies Readonly<Record<string, ErrorCode>>;

export type ContentRole = keyof typeof INVALID;

/** What a file is to the user, in the words of a sentence. */
export type FileRole =
  | ContentRole
  | "photo"
  | "picture"
  | "mask"
  | "bitmap"
  | "list of files"
  | "file"
  | "file or folder";

/** A file that holds options of a command. */
export interface UnknownPlace {
  readonly role: ContentRole;
  readonly path: string;
  readonly command: Command;
}

/** Every reason for which the command itself refuses its input or output. The library's own are in `core/refusals`. */
export const refused = {
  /** @param orElse another possible reason */
  missing: (role: FileRole, path: string, cause?: unknown, orElse = "") =>
    new SpotpitchError("INPUT_MISSING", `There is no ${role} "${path}"${orElse}.`, { received: path, cause }),

  unreadable: (role: FileRole, path: string, cause: unknown) =>
    new SpotpitchError("INPUT_UNREADABLE", `The ${role} "${path}" cannot be read (${systemCode(cause)}).`, {
      received: path,
      cause,
    }),

  folderGiven: (role: FileRole, path: string) =>
    new SpotpitchError("INPUT_UNREADABLE", `"${path}" is a folder; give the ${role} itself.`, {
      received: path,
    }),

  /**
   * @param path absent if the fault names it
   * @param fault what is wrong with the content, without a full stop
   */
  unusable(role: ContentRole, path: string | undefined, fault: string, cause?: unknown) {
    const message = `The ${role}${path === undefined ? "" : ` "${path}"`} cannot be used: ${fault}.`;
    return new SpotpitchError(INVALID[role], message, { received: path, cause });
  },

  /**
   * A name in a config file or a job sheet that is no option of the command.
   *
   * @param answer what to write instead, if that is known
   */
  unknownName(name: string, at: UnknownPlace, names: readonly string[], answer: string | undefined) {
    const { role, path, command } = at;
    const advice = answer === undefined ? didYouMean(name, names) : ` ${answer}`;
    return new SpotpitchError(
      role === "job sheet" ? "INPUT_SHEET_INVALID" : "OPTION_UNKNOWN",
      `Unknown option "${name}" in ${path}.${advice} Run spotpitch ${command} --help for the options.`,
      { received: name },
    );
  },

  /** An option of a config file that says which files one run reads or writes. */
  onlyTyped(name: string, value: string | undefined, { path, command }: Omit<UnknownPlace, "role">) {
    const typed = `--${name}${value === undefined ? "" : ` ${value}`}`;
    return new SpotpitchError(
      "OPTION_INVALID",
      `"${name}" cannot stand in ${path}: it belongs to one run. Remove it there, and type it: spotpitch ${command} ${typed}.`,
      { option: name, received: value },
    );
  },

  checkWithoutRecipe: () =>
    new SpotpitchError(
      "OPTION_INVALID",
      "--check needs the card.json that was written beside the check card: it says what the tones should be. Give it with --card.",
      { option: "card" },
    ),

  nothingGiven: () =>
    new SpotpitchError("OPTION_INVALID", "Give a folder, files or a job sheet: batch got none."),

  nothingMatches: (patterns: readonly string[]) => {
    const quoted = patterns.map((pattern) => `"${pattern}"`).join(", ");
    return new SpotpitchError("INPUT_MISSING", `No file matches ${quoted}.`);
  },

  nothingInside: (folders: readonly string[], recursive: boolean) => {
    const quoted = listWords(
      folders.map((folder) => `"${folder}"`),
      "or",
    );
    const deeper = recursive ? "" : " To look into folders of the folders too, give --recursive.";
    return new SpotpitchError("INPUT_MISSING", `There is no file in ${quoted}.${deeper}`);
  },

  inputInOutput: (input: string, out: string) =>
    new SpotpitchError(
      "OPTION_CONFLICT",
      `"${input}" is in the output folder "${out}": the next run would take the files of this run for uploads. Choose another folder with --out.`,
      { option: "out", received: out },
    ),

  /** A file of a prepared piece that has another content than a moment ago. */
  pieceChanged: (path: string) =>
    new SpotpitchError(
      "INPUT_CHANGING",
      `"${path}" has changed since it was prepared, so no board shows it. Run the command again: the piece is then prepared anew.`,
      { received: path },
    ),

  /** @param where the row of the job sheet */
  notUploaded: (file: string, where: string) =>
    new SpotpitchError(
      "INPUT_MISSING",
      `There is no file "${file}" among the uploads, but ${where} names it.`,
    ),

  /** A file that a row of a job sheet names. Whoever wrote the sheet may not see others. */
  outsideSheet: (role: FileRole, path: string) =>
    new SpotpitchError(
      "INPUT_SHEET_INVALID",
      `The ${role} "${path}" is not in the folder of the job sheet. Copy it there, or name it in the config file instead.`,
      { received: path },
    ),

  busy: (lock: string, process: number) =>
    new SpotpitchError(
      "OUTPUT_BUSY",
      `Another run (process ${process}) uses this output folder. Wait for it to end. If no run is left, delete "${lock}".`,
      { option: "out", received: process },
    ),

  noBatch: (folder: string) =>
    new SpotpitchError(
      "INPUT_MISSING",
      `There is no batch in "${folder}". Give the folder that "spotpitch batch" has written (its --out).`,
      { received: folder },
    ),

  badPort: (port: string) =>
    new SpotpitchError("OPTION_INVALID", `--port is "${port}". Allowed: a whole number from 1 to 65535.`, {
      option: "port",
      received: port,
      allowed: "a whole number from 1 to 65535",
    }),

  portTaken: (port: string, cause: unknown) =>
    new SpotpitchError(
      "OUTPUT_BUSY",
      `The desk cannot open port ${port} (${systemCode(cause)}): another program may use it. Choose another with --port, or leave it out.`,
      { option: "port", received: port, cause },
    ),

  /** @param remains what is left of the work, and what to do */
  unwritable: (path: string, reason: string, remains: string, cause?: unknown) =>
    new SpotpitchError("OUTPUT_UNWRITABLE", `Cannot write to "${path}": ${reason}. ${remains}`, {
      option: "out",
      received: path,
      cause,
    }),
};

const sheetWith = (fault: string): SpotpitchError => refused.unusable("job sheet", undefined, fault);

/** The rest of the sheet can be used. */
const rowWith = (fault: string): SpotpitchError =>
  new SpotpitchError(INVALID["job sheet"], `A row of the job sheet cannot be used: ${fault}.`);

/** Every fault of a job sheet. `where` names a row, such as "row 3 of jobs.csv". */
export const refusedSheet = {
  notText: (sheet: string) =>
    sheetWith(`${sheet} is not UTF-8 text, and its letters cannot be told; save it as "CSV UTF-8"`),
  notAList: (sheet: string) => sheetWith(`${sheet} must hold a list of objects, one for each file`),
  unreadableRow: (where: string, why: string) => sheetWith(`${where} cannot be read (${why})`),
  /** @param where the sheet, or a row of JSON */
  columnTwice: (where: string, column: string) => sheetWith(`${where} has two columns "${column}"`),
  noRows: (sheet: string) => sheetWith(`${sheet} names no file`),
  noFileColumn: (sheet: string) => sheetWith(`${sheet} has no column "file"`),
  noColumnName: (where: string, cell: string) => rowWith(`${where} has "${cell}" without a column name`),
  noFile: (where: string) => rowWith(`${where} does not name a file`),
  /** @param places of the rows */
  pieceTwice: (piece: string, places: readonly string[]) =>
    rowWith(`${listWords(places, "and")} ask for "${piece}"; give each row another name in a column "name"`),
  nameTaken: (piece: string, where: string) =>
    rowWith(`${where} makes a piece "${piece}", but an upload has that name; choose another "name"`),
  notAQuantity: (where: string, got: string) =>
    rowWith(`"quantity" in ${where} takes a whole number from 1 to ${MAX_COPIES}; got "${got}"`),
  outside: (file: string, where: string) => rowWith(`${where} leads out of the sheet's folder ("${file}")`),
  notYesOrNo: (column: string, where: string, value: unknown) =>
    rowWith(`"${column}" in ${where} takes yes or no; got "${value}"`),
};

/** The operating system's code for an error, such as `ENOENT`. Any other error as text. */
export const systemCode = (error: unknown): string =>
  error instanceof Error && "code" in error ? String(error.code) : String(error);
