import { visible } from "../../core/words.js";
import type { Decision } from "../decisions.js";
import type { UploadEntry } from "../entry.js";
import { figuresInFull, figuresInShort } from "./figure-words.js";
import { type Group, groupOf } from "./groups.js";

/** An upload as the desk gets it. Pictures are paths below the output folder. */
export interface DeskUpload {
  readonly entry: UploadEntry;
  /** The predicted piece. */
  readonly prediction?: string | undefined;
  /** The photo as it was sent. */
  readonly photo?: string | undefined;
}

/** What the page knows of an upload: texts that are safe to show. Its script reads them; keys are those of `desk-parts.js`. */
export interface DeskItem {
  readonly file: string;
  readonly group: Group;
  readonly code: string;
  readonly pieceSha256?: string;
  /** Of all pieces together. */
  readonly seconds: number;
  /** Size, material and machine time. */
  readonly short: string;
  readonly figures: readonly string[];
  /** What the shop should know. */
  readonly message: string;
  readonly note: string;
  /** The shop's own columns of the job sheet, head and cell. */
  readonly columns: readonly (readonly [string, string])[];
  /** What to write to the customer: the reason that counts most, then the others. */
  readonly words: readonly string[];
  readonly warnings: readonly string[];
  /** Paths below the output folder. */
  readonly files: readonly string[];
  /** Other uploads with the same content. */
  readonly same: readonly string[];
  readonly decision?: Decision;
}

/** @param same other uploads with the same content */
export function deskItem({ entry }: DeskUpload, same: readonly string[] = []): DeskItem {
  const {
    pieceSha256,
    figures,
    warnings = [],
    customerNote,
    customerMore = [],
    decision,
    quantity = 1,
  } = entry;
  const words = [...(customerNote === undefined ? [] : [customerNote]), ...customerMore];
  return {
    file: visible(entry.file),
    group: groupOf(entry),
    code: entry.code,
    ...(pieceSha256 !== undefined && { pieceSha256 }),
    seconds: quantity * (figures?.seconds ?? 0),
    short: figures ? figuresInShort(figures, quantity) : "",
    figures: figures ? figuresInFull(figures, quantity) : [],
    message: visible(entry.message),
    note: visible(entry.note ?? ""),
    columns: Object.entries(entry.columns ?? {})
      .filter(([, cell]) => cell !== "")
      .map(([head, cell]) => [visible(head), visible(cell)] as const),
    words: words.map(visible),
    warnings: warnings.map(({ message }) => visible(message)),
    files: entry.outputs,
    same: same.map(visible),
    ...(decision &&
      pieceSha256 !== undefined && { decision: { file: entry.file, pieceSha256, ...decision } }),
  };
}
