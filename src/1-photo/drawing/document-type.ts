/** The document type of a drawing (XML 1.0, 2.8). */
export interface DocumentType {
  /** Where it begins in the text, and where what follows it begins. */
  readonly start: number;
  readonly end: number;
  /** Each with its brackets, without comments. */
  readonly declarations: readonly string[];
}

const NAME = /<!DOCTYPE/iy;
const CLOSING = /\]\s*>/y;

/**
 * Find the document type of a drawing. Undefined if there is none, "other" if it has anything but comments and closed declarations.
 * A stranger's text may be made to keep a regular expression busy for years: this reads each character a fixed number of times.
 */
export function documentType(text: string): DocumentType | "other" | undefined {
  const start = afterMisc(text);
  NAME.lastIndex = start;
  if (!NAME.test(text)) return undefined;
  const open = outsideQuotes(text, NAME.lastIndex);
  if (text[open] === ">") return { start, end: open + 1, declarations: [] };
  return text[open] === "[" ? withDeclarations(text, start, open + 1) : "other";
}

function withDeclarations(text: string, start: number, from: number): DocumentType | "other" {
  const declarations: string[] = [];
  let at = afterComments(text, from);
  while (text[at] === "<") {
    const last = outsideQuotes(text, at + 1);
    if (text[last] !== ">") return "other";
    declarations.push(text.slice(at, last + 1));
    at = afterComments(text, last + 1);
  }
  CLOSING.lastIndex = at;
  return CLOSING.test(text) ? { start, end: CLOSING.lastIndex, declarations } : "other";
}

/** Behind what may stand before a document type: the declaration of XML, instructions, comments. */
function afterMisc(text: string): number {
  let at = afterComments(text, 0);
  while (text.startsWith("<?", at)) at = afterComments(text, after(text, "?>", at + 2));
  return at;
}

function afterComments(text: string, from: number): number {
  let at = afterSpace(text, from);
  while (text.startsWith("<!--", at)) at = afterSpace(text, after(text, "-->", at + 4));
  return at;
}

function afterSpace(text: string, from: number): number {
  let at = from;
  while (at < text.length && text[at].trim() === "") at++;
  return at;
}

/** The place of the next bracket of any kind that is in no quotes, or the end of the text. */
function outsideQuotes(text: string, from: number): number {
  let at = from;
  while (at < text.length && !"<>[]".includes(text[at])) {
    const isQuote = text[at] === '"' || text[at] === "'";
    at = isQuote ? after(text, text[at], at + 1) : at + 1;
  }
  return at;
}

/** The place behind the next such end, or the end of the text. */
function after(text: string, end: string, from: number): number {
  const at = text.indexOf(end, from);
  return at < 0 ? text.length : at + end.length;
}
