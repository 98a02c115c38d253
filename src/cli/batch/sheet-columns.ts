import { nearestNames } from "../../core/nearest-name.js";
import { listWords } from "../../core/words.js";
import { type Flag, flagName, flagNamed, namesOf, pieceFlags } from "../flags.js";
import { answerTo } from "../other-names.js";
import { refused } from "../refusals.js";

/** What a column of a job sheet is. */
export type Column =
  | { readonly is: "file" | "name" | "note" | "quantity" }
  | { readonly is: "option"; readonly flag: Flag; readonly name: string }
  /** The shop's own: kept as it is. */
  | { readonly is: "own"; readonly head: string };

const OWN_NAMES = {
  file: "file",
  name: "name",
  note: "note",
  quantity: "quantity",
  qty: "quantity",
  copies: "quantity",
} as const;

/** Columns of shops that are no options, although they are near one: `order` is nearly `border`, and `type` means no file type. */
const SHOPS_OWN =
  /^(order|customer|client|date|due|id|no|number|nr|sku|item|product|article|title|type|price|total|status|email|mail|phone|address|street|city|country|comment|remark)s?\b/;

/** A size under a head of several words, such as "photo width". */
const SIZE = /(^|-)(width|height|size|density)(-|$)/;

/**
 * What a head of a column means. Capital letters, spaces and signs do not count. A head that is nearly an option, or an option's
 * name elsewhere, is refused: a misspelt width would otherwise be kept as the shop's own column, and the piece get the wrong size.
 *
 * @throws SpotpitchError `INPUT_SHEET_INVALID`
 */
export function columnOf(head: string, sheet: string): Column {
  const name = head
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-|-$/g, "");
  if (Object.hasOwn(OWN_NAMES, name)) return { is: OWN_NAMES[name as keyof typeof OWN_NAMES] };
  const flag = flagNamed(pieceFlags, name);
  if (flag) return { is: "option", flag, name };
  if (SHOPS_OWN.test(name)) return { is: "own", head };
  const names = [...namesOf(pieceFlags), ...Object.keys(OWN_NAMES)];
  const answer = answerOf(head.trim()) ?? answerOf(name);
  if (answer !== undefined || isNear(name, names) || SIZE.test(name)) {
    throw refused.unknownName(head, { role: "job sheet", path: sheet, command: "batch" }, names, answer);
  }
  return { is: "own", head };
}

const answerOf = (name: string): string | undefined =>
  answerTo("batch", name, undefined, (settings) =>
    listWords(
      settings.map(([each]) => `"${each}"`),
      "and",
    ),
  );

/** Whether a name looks misspelt: few letters differ, and not the first one, which is rarely wrong. */
const isNear = (name: string, names: readonly string[]): boolean =>
  nearestNames(name, names).some((each) => each[0] === name[0] && Math.abs(each.length - name.length) <= 2);

/** The name of a column in words, to tell columns apart that mean the same. */
export const meaningOf = (column: Column): string =>
  column.is === "option" ? flagName(column.flag) : column.is === "own" ? `own ${column.head}` : column.is;
