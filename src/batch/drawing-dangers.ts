import { Parser } from "htmlparser2";

/** Attributes that point somewhere. */
const REFERENCES = new Set(["href", "xlink:href", "src"]);
/** Pictures inside the file itself. */
const INSIDE = /^\s*(#|data:image\/(png|jpeg|gif|webp)\b)/i;
const STYLE_REFERENCE = /url\(\s*["']?\s*([^"')]*)|@import\b/gi;
/** A character of a style by its number, or as it stands (CSS Syntax Module Level 3, 4.3.7). */
const STYLE_ESCAPE = /\\(?:([0-9a-f]{1,6})\s?|(.))/gi;
/** Declarations hold ">" themselves, also in quotes before them, and the tolerant parser would end at the first. */
const DECLARATION = /<!(ENTITY|ATTLIST|ELEMENT|NOTATION)\b|<!DOCTYPE[^>[]*\[/i;

/**
 * What in an SVG drawing reaches beyond it or would act: entities, scripts, event handlers, foreign content, references to other
 * files. Such a drawing would come out incomplete at best, so a stranger's is refused; the renderer follows none of it anyway.
 * Returns what was found, in words, or undefined.
 */
export function drawingDanger(bytes: Uint8Array): string | undefined {
  if (isCompressed(bytes)) return "compressed content";
  let danger: string | undefined;
  const found = (what: string): void => {
    danger ??= what;
  };
  const checkStyle = (text: string): void => {
    for (const [whole, target] of withoutEscapes(text).matchAll(STYLE_REFERENCE)) {
      if (target === undefined || !INSIDE.test(target))
        found(`a style that refers to another file (${whole})`);
    }
  };
  // A style's text comes in pieces: characters written as entities are told apart, and so are the parts beside a comment.
  let style = "";
  let depthInStyle = 0;
  const parser = new Parser(
    {
      onprocessinginstruction(name, data) {
        if (/^!doctype/i.test(name) && /[[\]]|<!/.test(data)) found("entities or other declarations");
        if (/^\?xml-stylesheet/i.test(name)) found("a style sheet of its own");
      },
      onopentag(name, attributes) {
        const tag = name.toLowerCase().replace(/^.*:/, "");
        if (depthInStyle > 0 || tag === "style") depthInStyle++;
        if (tag === "script") found("a script");
        if (tag === "foreignobject" || tag === "iframe") found("content of another kind");
        for (const [key, value] of Object.entries(attributes)) {
          const attribute = key.toLowerCase();
          if (/^on/.test(attribute)) found("an event handler");
          // A link to click is never followed.
          if (tag !== "a" && REFERENCES.has(attribute) && !INSIDE.test(value)) {
            found("a reference to another file");
          }
          if (attribute === "xml:base") found("a reference to another place");
          checkStyle(value);
        }
      },
      ontext(text) {
        if (depthInStyle > 0) style += text;
      },
      onclosetag() {
        if (depthInStyle === 0 || --depthInStyle > 0) return;
        checkStyle(style);
        style = "";
      },
    },
    { xmlMode: true, decodeEntities: true },
  );
  const text = textOf(bytes);
  if (DECLARATION.test(text)) found("entities or other declarations");
  parser.end(text);
  return danger;
}

function withoutEscapes(style: string): string {
  return style.replace(STYLE_ESCAPE, (_whole, hex: string | undefined, plain: string) => {
    if (hex === undefined) return plain;
    const code = Number.parseInt(hex, 16);
    return code <= 0x10ffff ? String.fromCodePoint(code) : "\ufffd";
  });
}

/** Gzip. The renderer would unpack it; little can become much, and nobody can look inside before. */
export const isCompressed = ([first, second]: Uint8Array): boolean => first === 0x1f && second === 0x8b;

/** UTF-8, or UTF-16 where its mark or its zero bytes say so. */
function textOf(bytes: Uint8Array): string {
  const [first, second] = bytes;
  if ((first === 0xff && second === 0xfe) || second === 0) return new TextDecoder("utf-16le").decode(bytes);
  if ((first === 0xfe && second === 0xff) || first === 0) return new TextDecoder("utf-16be").decode(bytes);
  return new TextDecoder().decode(bytes);
}
