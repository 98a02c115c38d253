/** The text of a drawing. */
export interface DrawingText {
  /** With its harmless entities replaced, and without the document type that declares them. */
  readonly text: string;
  /** Whether declarations remain: entities that are not plain text, elements, attributes. */
  readonly hasDeclarations: boolean;
}

/** Characters that replaced entities may add. */
const MAX_ADDED = 1_000_000;

const QUOTED = /"[^"]*"|'[^']*'/.source;
/** A document type with an internal part. Quotes and comments may hold brackets. */
const DOCTYPE = new RegExp(
  `<!DOCTYPE(?:${QUOTED}|[^"'<>[\\]])*\\[((?:${QUOTED}|<!--[\\s\\S]*?-->|<(?!!--)|[^"'<\\]])*)\\]\\s*>`,
  "iy",
);
/** Plain characters: no markup, and nothing that is replaced once more. */
const PLAIN = /("[^"'<>&%]*"|'[^"'<>&%]*')/.source;
const ENTITY = new RegExp(`<!ENTITY\\s+([\\w.:-]+)\\s+${PLAIN}\\s*>`, "g");
const NAMESPACES = new RegExp(
  `<!ATTLIST\\s+[\\w.:-]+(?:\\s+xmlns(?::[\\w.-]+)?\\s+CDATA\\s+(?:#FIXED\\s+)?${PLAIN})+\\s*>`,
  "g",
);
const COMMENT = /<!--[\s\S]*?-->/g;
const DECLARATION = new RegExp(
  `<!(?:ENTITY|ATTLIST|ELEMENT|NOTATION)\\b|<!DOCTYPE(?:${QUOTED}|[^"'<>[\\]])*[[\\]<]`,
  "i",
);

/**
 * Read the text of a drawing. Drawing programs name the addresses of namespaces, and repeated styles, by entities: those of plain
 * text are replaced here as the renderer replaces them, so that what is judged is what is drawn.
 */
export function drawingText(bytes: Uint8Array): DrawingText {
  const raw = decoded(bytes);
  DOCTYPE.lastIndex = Math.max(0, raw.search(/<!DOCTYPE/i));
  const [type, inside] = DOCTYPE.exec(raw) ?? [];
  const text = type === undefined || inside === undefined ? raw : replaced(raw, type, inside);
  return { text, hasDeclarations: DECLARATION.test(text) };
}

/** The text unchanged if its document type declares anything else, or if its entities would multiply it. */
function replaced(raw: string, type: string, inside: string): string {
  const entities = new Map<string, string>();
  const rest = inside
    .replace(COMMENT, "")
    .replace(ENTITY, (_whole, name: string, quoted: string) => {
      // The first declaration holds (XML 1.0, 4.2).
      if (!entities.has(name)) entities.set(name, quoted.slice(1, -1));
      return "";
    })
    .replace(NAMESPACES, "");
  if (rest.trim() !== "") return raw;
  let added = 0;
  const text = raw.replace(type, "").replace(/&([\w.:-]+);/g, (whole, name: string) => {
    const value = entities.get(name);
    if (value === undefined || added > MAX_ADDED) return whole;
    added += value.length;
    return value;
  });
  return added > MAX_ADDED ? raw : text;
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
