import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

/** A command of an outline in units of the font, y downwards. `Q` and `C` have control points. */
export type OutlineCommand =
  | { readonly type: "M" | "L"; readonly x: number; readonly y: number }
  | { readonly type: "Q"; readonly x1: number; readonly y1: number; readonly x: number; readonly y: number }
  | {
      readonly type: "C";
      readonly x1: number;
      readonly y1: number;
      readonly x2: number;
      readonly y2: number;
      readonly x: number;
      readonly y: number;
    }
  | { readonly type: "Z" };

/** What is used of a font of opentype.js. */
export interface Font {
  readonly unitsPerEm: number;
  readonly tables: { readonly os2: { readonly sCapHeight: number } };
  /** 0 for a character that it does not have. */
  readonly charToGlyphIndex: (character: string) => number;
  readonly getAdvanceWidth: (text: string, size: number) => number;
  readonly getPath: (
    text: string,
    x: number,
    y: number,
    size: number,
  ) => { readonly commands: readonly OutlineCommand[] };
}

/** Parts of the font by their alphabets. A text may mix them. */
const PARTS = ["latin", "latin-ext", "greek", "greek-ext", "cyrillic", "cyrillic-ext"];

/** Read on first use, because few pieces have a text. */
let fonts: readonly Font[] | undefined;

/**
 * The font that comes with the package, and no font of the computer: the same text is the same outline everywhere. Didact Gothic by
 * Daniel Johnson, under the SIL Open Font Licence.
 */
export function textFonts(): readonly Font[] {
  fonts ??= PARTS.map(readFont);
  return fonts;
}

function readFont(part: string): Font {
  const load = createRequire(import.meta.url);
  const path = load.resolve(`@fontsource/didact-gothic/files/didact-gothic-${part}-400-normal.woff`);
  const { parse }: { parse: (file: ArrayBuffer) => Font } = load("opentype.js");
  return parse(new Uint8Array(readFileSync(path)).buffer);
}
