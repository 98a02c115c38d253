import { type UnicodeForm, unicodeBy } from "../input-files.js";

/** A sheet as text, and how sure that is. */
export interface SheetText {
  readonly text: string;
  /** True if its letters with accents are a guess. */
  readonly isGuessed: boolean;
}

/** In Windows-1252: letters with accents, the same as in Latin-1, and signs. */
const LETTER = /[À-ÖØ-öø-ÿ]/;
const SIGN = /[\u00a0-¿×÷]/;

/**
 * The text of a sheet: UTF-8, UTF-16 with its mark, or Windows-1252 if that can be told. Undefined if it cannot: then names could be read
 * wrongly, and a wrong name would be engraved. Bytes that other encodings of the same kind use for letters are such a case: 0x80 to 0x9f,
 * and signs behind a letter.
 */
export function sheetText(bytes: Uint8Array): SheetText | undefined {
  const mark = unicodeBy(bytes);
  const text = decoded(bytes, mark);
  if (text !== undefined) return { text, isGuessed: false };
  const latin = decoded(bytes, "latin1") ?? "";
  const signs = [...latin];
  const isPlain = signs.every((sign, i) => {
    if (sign < "\u0080") return sign >= " " || "\t\r\n".includes(sign);
    return LETTER.test(sign) || (SIGN.test(sign) && !/\p{L}/u.test(signs[i - 1] ?? ""));
  });
  return mark === "utf-8" && isPlain ? { text: latin, isGuessed: true } : undefined;
}

function decoded(bytes: Uint8Array, encoding: UnicodeForm | "latin1"): string | undefined {
  try {
    return new TextDecoder(encoding, { fatal: true }).decode(bytes);
  } catch {
    return undefined;
  }
}
