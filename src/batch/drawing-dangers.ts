import { Parser } from "htmlparser2";
import { localName, MAX_DEPTH } from "../1-photo/drawing/drawing-content.js";
import { drawingText, isCompressed } from "../1-photo/drawing/drawing-text.js";
import { DATA, SAME_FILE } from "./references.js";
import { type Danger, styleDanger } from "./style-dangers.js";

/** Attributes that refer to something, without their prefixes. */
const REFERENCES = new Set(["href", "src"]);
/** Elements that show a picture. */
const PICTURES = new Set(["image", "feimage"]);
/** Pictures in the file itself, also without a word on their kind. Whether they can be shown is checked when they are decoded. */
const PICTURE = /^\s*data:\s*(image\/(?!svg)|[;,])/i;
const DRAWING = /^\s*data:\s*image\/svg/i;

/**
 * Find content of an SVG drawing that refers to other files or would run: entities, scripts, event handlers, foreign content,
 * references. The renderer ignores it, so such a drawing would be incomplete, and an upload with it is refused. Returns the first
 * danger, or undefined.
 */
export function drawingDanger(bytes: Uint8Array): Danger | undefined {
  if (isCompressed(bytes)) return { what: "compressed content" };
  const { text, hasDeclarations } = drawingText(bytes);
  return hasDeclarations ? { what: "entities or other declarations" } : contentDanger(text);
}

function contentDanger(text: string): Danger | undefined {
  let danger: Danger | undefined;
  const found = (found: Danger | undefined): void => {
    danger ??= found;
  };
  // The text of a style comes in parts, because entities and comments divide it.
  let style = "";
  let depthInStyle = 0;
  let depth = 0;
  const parser = new Parser(
    {
      onprocessinginstruction(name) {
        if (/^\?xml-stylesheet/i.test(name)) found({ what: "a style sheet of its own" });
      },
      onopentag(name, attributes) {
        const tag = localName(name);
        if (++depth > MAX_DEPTH) {
          found({ what: `more than ${MAX_DEPTH} elements inside one another` });
          parser.pause();
        }
        if (depthInStyle > 0 || tag === "style") depthInStyle++;
        if (tag === "script") found({ what: "a script" });
        if (tag === "foreignobject" || tag === "iframe") found({ what: "content of another kind" });
        for (const [key, value] of Object.entries(attributes)) found(attributeDanger(tag, key, value));
      },
      ontext(letters) {
        if (depthInStyle > 0) style += letters;
      },
      onclosetag() {
        depth--;
        if (depthInStyle === 0 || --depthInStyle > 0) return;
        found(styleDanger(style));
        style = "";
      },
    },
    { xmlMode: true, decodeEntities: true },
  );
  parser.end(text);
  return danger;
}

function attributeDanger(tag: string, key: string, value: string): Danger | undefined {
  const attribute = key.toLowerCase();
  if (/^on/.test(attribute)) return { what: "an event handler" };
  if (attribute === "xml:base") return { what: "a reference to another place" };
  // A link that waits for a click is never followed.
  if (REFERENCES.has(localName(key)) && tag !== "a") return referenceDanger(tag, value);
  return styleDanger(value);
}

function referenceDanger(tag: string, value: string): Danger | undefined {
  if (SAME_FILE.test(value)) return undefined;
  if (!DATA.test(value)) return { what: "a reference to another file" };
  if (DRAWING.test(value)) return { what: "another drawing inside it" };
  const isShown = PICTURES.has(tag) && PICTURE.test(value);
  return isShown ? undefined : { what: "data that are not shown as a picture" };
}
