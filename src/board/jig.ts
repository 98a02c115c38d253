import * as z from "zod";
import { above0, between } from "../options/takes.js";

/** A pocket of a jig. Lengths in mm, from the upper left corner of the bitmap. */
export interface Pocket {
  readonly name: string;
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** A holder with a place for each piece. */
export interface Jig {
  /** Size of the bitmap. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** In the order in which they are filled. */
  readonly pockets: readonly Pocket[];
}

const MAX_MM = 3000;
const MAX_POCKETS = 10_000;
const side = above0(MAX_MM, "mm");
const offset = between(0, MAX_MM, "mm");
const count = z
  .int("a whole number from 1 to 1000")
  .min(1, "a whole number from 1 to 1000")
  .max(1000, "a whole number from 1 to 1000");
const size = { widthMm: side.optional(), heightMm: side.optional() };

/** Pockets in rows and columns: the first one's corner, and the way from one to the next. */
const grid = z.strictObject({
  ...size,
  rows: count,
  columns: count,
  pitchXMm: side,
  pitchYMm: side,
  offsetXMm: offset.default(0),
  offsetYMm: offset.default(0),
  pocketWidthMm: side,
  pocketHeightMm: side,
});

/** Pockets one by one. */
const list = z.strictObject({
  ...size,
  pockets: z
    .array(
      z.strictObject(
        {
          name: z.string("a text").optional(),
          leftMm: offset,
          topMm: offset,
          widthMm: side,
          heightMm: side,
        },
        "an object with leftMm, topMm, widthMm and heightMm",
      ),
      "a list of pockets",
    )
    .min(1, "at least one pocket"),
});

type Size = { readonly widthMm?: number | undefined; readonly heightMm?: number | undefined };

/**
 * Read the content of a jig file: pockets in rows and columns, or a list of them. Without a size of its own, the jig ends where its
 * last pocket ends. Returns the fault in words for a content that cannot be used.
 */
export function readJig(content: unknown): Jig | string {
  const isList = typeof content === "object" && content !== null && "pockets" in content;
  const isGrid = typeof content === "object" && content !== null && GRID_KEYS.some((key) => key in content);
  if (!isList && !isGrid) return EITHER;
  const parsed = isList ? list.safeParse(content) : grid.safeParse(content);
  if (!parsed.success) return faultOf(parsed.error.issues[0], content, isList);
  const { data } = parsed;
  const pocketCount = "pockets" in data ? data.pockets.length : data.rows * data.columns;
  if (pocketCount > MAX_POCKETS) return `it has ${pocketCount} pockets; at most ${MAX_POCKETS} are allowed`;
  const pockets = "pockets" in data ? namedPockets(data.pockets) : gridPockets(data);
  return checked({ ...sizeOf(data, pockets), pockets });
}

const namedPockets = (
  pockets: readonly (Omit<Pocket, "name"> & { readonly name?: string | undefined })[],
): Pocket[] => pockets.map((pocket, i) => ({ ...pocket, name: pocket.name ?? String(i + 1) }));

function gridPockets(jig: z.output<typeof grid>): Pocket[] {
  const { rows, columns, pitchXMm, pitchYMm, offsetXMm, offsetYMm, pocketWidthMm, pocketHeightMm } = jig;
  return Array.from({ length: rows * columns }, (_, i) => {
    const [row, column] = [Math.floor(i / columns), i % columns];
    return {
      name: `row ${row + 1}, column ${column + 1}`,
      leftMm: offsetXMm + column * pitchXMm,
      topMm: offsetYMm + row * pitchYMm,
      widthMm: pocketWidthMm,
      heightMm: pocketHeightMm,
    };
  });
}

function sizeOf({ widthMm, heightMm }: Size, pockets: readonly Pocket[]) {
  return {
    widthMm: widthMm ?? Math.max(...pockets.map((pocket) => pocket.leftMm + pocket.widthMm)),
    heightMm: heightMm ?? Math.max(...pockets.map((pocket) => pocket.topMm + pocket.heightMm)),
  };
}

/** Decimals do not add up exactly: 0.1 + 0.2 is a little more than 0.3. */
const SLACK_MM = 1e-6;

/** The jig, or in words what is wrong with the places of its pockets. */
function checked(jig: Jig): Jig | string {
  const { widthMm, heightMm, pockets } = jig;
  if (widthMm > MAX_MM || heightMm > MAX_MM) return `it is larger than ${MAX_MM} mm`;
  const names = new Set<string>();
  for (const { name, ...at } of pockets) {
    if (names.has(name)) return `two pockets have the name "${name}"`;
    names.add(name);
    if (at.leftMm + at.widthMm > widthMm + SLACK_MM || at.topMm + at.heightMm > heightMm + SLACK_MM) {
      return `pocket "${name}" reaches beyond the jig's ${widthMm} × ${heightMm} mm`;
    }
  }
  const byTop = [...pockets].sort((a, b) => a.topMm - b.topMm);
  for (const [i, upper] of byTop.entries()) {
    for (let k = i + 1; k < byTop.length && byTop[k].topMm < upper.topMm + upper.heightMm - SLACK_MM; k++) {
      const other = byTop[k];
      const apart =
        upper.leftMm + upper.widthMm <= other.leftMm + SLACK_MM ||
        other.leftMm + other.widthMm <= upper.leftMm + SLACK_MM;
      if (!apart) return `pockets "${upper.name}" and "${other.name}" overlap`;
    }
  }
  return jig;
}

const GRID_KEYS = Object.keys(grid.shape);
const LIST_KEYS = Object.keys(list.shape);
/** What a jig must have that does not list its pockets. */
const NEEDED = "rows, columns, pitchXMm, pitchYMm, pocketWidthMm and pocketHeightMm";
const EITHER = `it must hold one JSON object: either "pockets", a list of them, or ${NEEDED}`;

function faultOf(issue: z.core.$ZodIssue, content: unknown, isList: boolean): string {
  const where = issue.path
    .map((part) => (typeof part === "number" ? `[${part + 1}]` : `"${String(part)}"`))
    .join(" ");
  if (issue.code === "unrecognized_keys") {
    const known = isList ? LIST_KEYS : GRID_KEYS;
    const names = where === "" ? ` It takes ${known.join(", ")}` : "";
    return `it has an unknown field "${issue.keys[0]}"${where && ` in ${where}`}.${names}`;
  }
  if (where === "") return EITHER;
  const isMissing = issue.path.reduce((part: unknown, key) => Object(part)[key], content) === undefined;
  return isMissing ? `${where} is missing: ${issue.message}` : `${where} takes ${issue.message}`;
}
