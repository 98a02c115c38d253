import { Parser } from "htmlparser2";

/** Attributes that point somewhere. */
const REFERENCES = new Set(["href", "xlink:href", "src"]);
/** Pictures inside the file itself. */
const INSIDE = /^\s*(#|data:image\/(png|jpeg|gif|webp)\b)/i;
const STYLE_REFERENCE = /url\(\s*["']?\s*([^"')]*)|@import\b/gi;

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
    for (const [whole, target] of text.matchAll(STYLE_REFERENCE)) {
      if (target === undefined || !INSIDE.test(target))
        found(`a style that refers to another file (${whole})`);
    }
  };
  let inStyle = false;
  const parser = new Parser(
    {
      onprocessinginstruction(name, data) {
        if (/^!doctype/i.test(name) && /[[\]]|<!/.test(data)) found("entities or other declarations");
        if (/^\?xml-stylesheet/i.test(name)) found("a style sheet of its own");
      },
      onopentag(name, attributes) {
        const tag = name.toLowerCase().replace(/^.*:/, "");
        inStyle = tag === "style";
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
        if (inStyle) checkStyle(text);
      },
      onclosetag() {
        inStyle = false;
      },
    },
    { xmlMode: true, decodeEntities: true },
  );
  const text = textOf(bytes);
  // Declarations hold ">" themselves, and the tolerant parser would end at the first.
  if (/<!ENTITY\b|<!DOCTYPE[^>[]*\[/i.test(text)) found("entities or other declarations");
  parser.end(text);
  return danger;
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
