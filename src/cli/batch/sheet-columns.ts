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

/**
 * Columns of shops that are no options, although they are near one: `street` is nearly `spread`, and `type` means no file type. An
 * `amount` may be money, and too few pieces are a smaller mistake than twenty for twenty euros.
 */
const SHOPS_OWN =
  /^(order|customer|client|date|due|id|no|number|nr|sku|item|product|article|title|type|price|total|amount|status|email|mail|phone|address|street|city|country|comment|remark)s?$/;

/** A word of a head such as "No. of copies". */
const QUANTITY = /^(quantity|quantities|qty|copies|pieces|pcs)$/;
const SIZE = /^(size|dimension|diameter)s?$/;
/** Options whose names mean other things too: "place of delivery", "payment method". */
const AMBIGUOUS = ["place", "kind", "method", "format", "fit", "offered", "m2"];

/**
 * What a head of a column means. Spaces and signs do not count, and capital letters only where they begin a word ("itemWidth"). A head that is nearly an option, an option's name
 * elsewhere, or has an option's name among its words ("Item width"), is refused: it would otherwise be kept as the shop's own column,
 * and the piece get the wrong size.
 *
 * @throws SpotpitchError `INPUT_SHEET_INVALID`
 */
export function columnOf(head: string, sheet: string): Column {
  const name = head
    .replace(/(\p{Ll})(\p{Lu})/gu, "$1-$2")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-|-$/g, "");
  if (Object.hasOwn(OWN_NAMES, name)) return { is: OWN_NAMES[name as keyof typeof OWN_NAMES] };
  const flag = flagNamed(pieceFlags, name);
  if (flag) return { is: "option", flag, name };
  if (SHOPS_OWN.test(name)) return { is: "own", head };
  const names = [...namesOf(pieceFlags), ...Object.keys(OWN_NAMES)];
  const answer = answerOf(head.trim()) ?? answerOf(name) ?? answerOfWords(name);
  if (answer !== undefined || isNear(name, names)) {
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

/** The answer to a head with a word that decides about the piece. */
function answerOfWords(name: string): string | undefined {
  const options = namesOf(pieceFlags).filter((each) => !AMBIGUOUS.includes(each));
  for (const word of name.split("-")) {
    const option = options.find((each) => word === each || word === `${each}s`);
    const meant = QUANTITY.test(word) ? "quantity" : option;
    if (meant === undefined && !SIZE.test(word)) continue;
    const use = meant === undefined ? (answerOf(word) ?? answerOf("size")) : `Use "${meant}".`;
    return `${use} If the column is the shop's own, name it without the word "${word}".`;
  }
  return undefined;
}

/** Whether a name looks misspelt: few letters differ, and not the first one, which is rarely wrong. */
const isNear = (name: string, names: readonly string[]): boolean =>
  nearestNames(name, names).some((each) => each[0] === name[0] && Math.abs(each.length - name.length) <= 2);

/** The name of a column in words, to tell columns apart that mean the same. */
export const meaningOf = (column: Column): string =>
  column.is === "option" ? flagName(column.flag) : column.is === "own" ? `own ${column.head}` : column.is;
