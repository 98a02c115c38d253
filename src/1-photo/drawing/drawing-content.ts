import { gunzipSync } from "node:zlib";
import { Parser } from "htmlparser2";
import { type DrawingText, drawingText, isCompressed } from "./drawing-text.js";

/** What a drawing contains besides shapes. */
export interface DrawingContent {
  /** Characters of its text. */
  readonly length: number;
  readonly elements: number;
  /** Data addresses of the pictures in it, each once. */
  readonly pictures: readonly string[];
  /** Whether it has letters of a font: text that was not converted to outlines. */
  readonly hasText: boolean;
  readonly hasDeclarations: boolean;
}

/** Elements whose letters come from a font. The renderer leaves flowed text out. */
const TEXT = new Set(["text", "flowroot"]);
/** Parts of a text that are not shown. */
const SILENT = new Set(["title", "desc", "metadata", "style", "script"]);
const PICTURES = new Set(["image", "feimage"]);

/** Characters of compressed content that are looked at. */
const MAX_UNPACKED = 100e6;

/**
 * Elements inside one another that are looked through. The renderer refuses more than 2048, and the time of this parser grows with the
 * square of the depth.
 */
export const MAX_DEPTH = 3000;

/** A name without its prefix, in small letters. */
export const localName = (name: string): string => name.toLowerCase().replace(/^.*:/, "");

/** Look through a drawing. */
export function drawingContent(bytes: Uint8Array): DrawingContent {
  return contentOf(drawingText(isCompressed(bytes) ? unpacked(bytes) : bytes));
}

function contentOf({ text, hasDeclarations }: DrawingText): DrawingContent {
  const pictures = new Set<string>();
  let elements = 0;
  let hasText = false;
  let depth = 0;
  let textDepth = 0;
  let silentDepth = 0;
  const parser = new Parser(
    {
      onopentag(name, attributes) {
        elements++;
        if (++depth > MAX_DEPTH) parser.pause();
        const tag = localName(name);
        if (TEXT.has(tag)) textDepth++;
        if (SILENT.has(tag)) silentDepth++;
        if (!PICTURES.has(tag)) return;
        for (const [key, value] of Object.entries(attributes)) {
          if (localName(key) === "href" && /^\s*data:/i.test(value)) pictures.add(value.trim());
        }
      },
      ontext(letters) {
        if (textDepth > 0 && silentDepth === 0 && /\S/.test(letters)) hasText = true;
      },
      onclosetag(name) {
        depth--;
        const tag = localName(name);
        if (TEXT.has(tag)) textDepth--;
        if (SILENT.has(tag)) silentDepth--;
      },
    },
    { xmlMode: true, decodeEntities: true },
  );
  parser.end(text);
  return { length: text.length, elements, pictures: [...pictures], hasText, hasDeclarations };
}

/** Nothing if it cannot be unpacked: the renderer says so. */
function unpacked(bytes: Uint8Array): Uint8Array {
  try {
    return gunzipSync(bytes, { maxOutputLength: MAX_UNPACKED });
  } catch {
    return new Uint8Array();
  }
}
