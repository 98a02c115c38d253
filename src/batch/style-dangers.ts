import { DATA, SAME_FILE } from "./references.js";

/** Content for which a drawing is refused. */
export interface Danger {
  /** As part of a sentence: "a drawing with a script". */
  readonly what: string;
  /** What to do about it, if that is not the same for all. */
  readonly advice?: string;
}

/**
 * An escaped character of a style: a code point with the white space that ends it, a line break, which counts for nothing, or the
 * character itself (CSS Syntax Module Level 3, 3.3 and 4.3.7).
 */
const ESCAPE = /\\(?:([0-9a-f]{1,6})(?:\r\n|\s)?|(\r\n|[\s\S]))/gi;
const COMMENT = /\/\*[\s\S]*?(?:\*\/|$)/g;
/** It names a namespace and loads nothing, if it ends. Without its end it is read as well: time would grow with the square otherwise. */
const NAMESPACE = /@namespace\b[^;{}]*;?/gi;
const FONT = /@font-face\b/i;
const REFERENCE = /\burl\(\s*["']?\s*([^"')]*)|@import\b/gi;

/** The first reference of a style to anything but a part of the drawing, or undefined. */
export function styleDanger(style: string): Danger | undefined {
  // Most attributes are plain, and some very long.
  if (!/[(@\\]/.test(style)) return undefined;
  const plain = withoutEscapes(style);
  // In a string, what looks like a comment is none: so both readings are judged.
  const readings = [plain.replace(COMMENT, ""), plain];
  for (const text of readings) {
    const found = referenceIn(text.replace(NAMESPACE, (rule) => (rule.endsWith(";") ? "" : rule)));
    if (found) return found;
  }
  return undefined;
}

function referenceIn(text: string): Danger | undefined {
  if (FONT.test(text)) {
    return {
      what: "a web font of its own (@font-face), which is not loaded",
      advice: "Convert the text to outlines (also called paths or curves).",
    };
  }
  for (const [whole, target] of text.matchAll(REFERENCE)) {
    if (target !== undefined && SAME_FILE.test(target)) continue;
    if (target !== undefined && DATA.test(target)) {
      return { what: "a picture in a style, which would be missing from the engraving" };
    }
    return { what: `a style that refers to another file (${shortened(whole)})` };
  }
  return undefined;
}

const MOST_SHOWN = 60;

const shortened = (text: string): string =>
  text.length > MOST_SHOWN ? `${text.slice(0, MOST_SHOWN)}…` : text;

function withoutEscapes(style: string): string {
  return style.replace(ESCAPE, (_whole, hex: string | undefined, plain: string) => {
    if (hex === undefined) return /^[\r\n\f]/.test(plain) ? "" : plain;
    const code = Number.parseInt(hex, 16);
    return code <= 0x10ffff ? String.fromCodePoint(code) : "\ufffd";
  });
}
