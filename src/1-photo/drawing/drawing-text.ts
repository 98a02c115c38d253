import { type DocumentType, documentType } from "./document-type.js";

/** The text of a drawing. */
export interface DrawingText {
  /** With its harmless entities replaced, and without the document type that declares them. */
  readonly text: string;
  /** Whether declarations remain: entities that are not plain text, elements, attributes. */
  readonly hasDeclarations: boolean;
}

/** Characters that replaced entities may add. */
const MAX_ADDED = 1_000_000;

/** Plain characters: no markup, and nothing that is replaced once more. */
const PLAIN = /("[^"'<>&%]*"|'[^"'<>&%]*')/.source;
const ENTITY = new RegExp(`^<!ENTITY\\s+([\\w.:-]+)\\s+${PLAIN}\\s*>$`);
const NAMESPACES = new RegExp(
  `^<!ATTLIST\\s+[\\w.:-]+(?:\\s+xmlns(?::[\\w.-]+)?\\s+CDATA\\s+(?:#FIXED\\s+)?${PLAIN})+\\s*>$`,
);
/** Beside the document type there is no place for any. */
const DECLARATION = /<!(?:ENTITY|ATTLIST|ELEMENT|NOTATION)\b|<!DOCTYPE[^<>[\]]*[[\]<]/i;

/**
 * Read the text of a drawing. Drawing programs name the addresses of namespaces, and repeated styles, by entities: those of plain
 * text are replaced here as the renderer replaces them, so that what is judged is what is drawn.
 */
export function drawingText(bytes: Uint8Array): DrawingText {
  const raw = decoded(bytes);
  const type = documentType(raw);
  const text = type === undefined ? raw : type === "other" ? undefined : withoutType(raw, type);
  return text === undefined
    ? { text: raw, hasDeclarations: true }
    : { text, hasDeclarations: DECLARATION.test(text) };
}

/** Undefined if the document type declares anything else, or if its entities would multiply the text. */
function withoutType(raw: string, { start, end, declarations }: DocumentType): string | undefined {
  const entities = new Map<string, string>();
  for (const declaration of declarations) {
    const [, name, quoted] = ENTITY.exec(declaration) ?? [];
    if (name === undefined && !NAMESPACES.test(declaration)) return undefined;
    // The first declaration holds (XML 1.0, 4.2).
    if (name !== undefined && !entities.has(name)) entities.set(name, quoted.slice(1, -1));
  }
  let added = 0;
  const text = (raw.slice(0, start) + raw.slice(end)).replace(/&([\w.:-]+);/g, (whole, name: string) => {
    const value = entities.get(name);
    if (value === undefined || added > MAX_ADDED) return whole;
    added += value.length;
    return value;
  });
  return added > MAX_ADDED ? undefined : text;
}

/** UTF-8, or UTF-16 if the byte order mark or zero bytes show it. */
function decoded(bytes: Uint8Array): string {
  const [first, second] = bytes;
  if ((first === 0xff && second === 0xfe) || second === 0) return new TextDecoder("utf-16le").decode(bytes);
  if ((first === 0xfe && second === 0xff) || first === 0) return new TextDecoder("utf-16be").decode(bytes);
  return new TextDecoder().decode(bytes);
}

/** Gzip, which the renderer unpacks. */
export const isCompressed = ([first, second]: Uint8Array): boolean => first === 0x1f && second === 0x8b;
