import { Parser } from "htmlparser2";

/** Attributes that refer to something. */
const REFERENCES = new Set(["href", "xlink:href", "src"]);
/** References to parts of the file itself and to embedded pictures. */
const INSIDE = /^\s*(#|data:image\/(png|jpeg|gif|webp)\b)/i;
const STYLE_REFERENCE = /url\(\s*["']?\s*([^"')]*)|@import\b/gi;
/** An escaped character of a style: a code point, or the character itself (CSS Syntax Module Level 3, 4.3.7). */
const STYLE_ESCAPE = /\\(?:([0-9a-f]{1,6})\s?|(.))/gi;
/** Declarations may contain ">", also in quotes. The tolerant parser would end them at the first one. */
const DECLARATION = /<!(ENTITY|ATTLIST|ELEMENT|NOTATION)\b|<!DOCTYPE[^>[]*\[/i;

/**
 * Find content of an SVG drawing that refers to other files or would run: entities, scripts, event handlers, foreign content,
 * references. The renderer ignores it, so such a drawing would be incomplete, and an upload with it is refused. Returns the first
 * danger in words, or undefined.
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
  // The text of a style comes in parts, because entities and comments divide it.
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
          // A link that waits for a click is never followed.
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

/** Gzip. The renderer would unpack it to any size, and it cannot be checked before. */
export const isCompressed = ([first, second]: Uint8Array): boolean => first === 0x1f && second === 0x8b;

/** UTF-8, or UTF-16 if the byte order mark or zero bytes show it. */
function textOf(bytes: Uint8Array): string {
  const [first, second] = bytes;
  if ((first === 0xff && second === 0xfe) || second === 0) return new TextDecoder("utf-16le").decode(bytes);
  if ((first === 0xfe && second === 0xff) || first === 0) return new TextDecoder("utf-16be").decode(bytes);
  return new TextDecoder().decode(bytes);
}
