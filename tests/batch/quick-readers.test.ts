import { describe, expect, it } from "vitest";
import { drawingDanger } from "../../src/batch/drawing-dangers.js";

/*
 * Texts made to keep a reader busy. Each took minutes or worse with a reader whose time grows faster than the length of the text, and
 * takes milliseconds with one that does not: the limit of time is far from both.
 */
const FAR_MS = 10_000;
const LENGTH = 200_000;
const repeated = (part: string): string => part.repeat(Math.ceil(LENGTH / part.length));
const SVG = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9">';

describe("drawingDanger reads in a moment", () => {
  const types: readonly (readonly [string, string])[] = [
    ["40 comments in a type that does not end", `<!DOCTYPE svg [${"<!---->".repeat(40)}`],
    ["many comments in a type that does not end", `<!DOCTYPE svg [${repeated("<!---->")}`],
    ["openings of comments in quotes", `<!DOCTYPE svg [<!ENTITY a "${repeated("<!--")}">]>`],
    ["openings of comments", `<!DOCTYPE svg [${repeated("<!--")}`],
    ["openings of types", repeated("<!DOCTYPE ")],
    ["quotes in a type", `<!DOCTYPE ${repeated("\"'")}`],
    ["types in quotes", `<!DOCTYPE ${repeated("\"'<!DOCTYPE\"'")}`],
    ["spaces in a declaration", `<!DOCTYPE svg [<!ENTITY a${repeated(" ")}]>`],
    ["namespaces without an end", `<!DOCTYPE svg [<!ATTLIST svg${repeated(' xmlns:a CDATA "b"')}]>`],
  ];
  it.each(types)(
    "%s",
    (_what, before) => expect(drawingDanger(Buffer.from(`${before}${SVG}</svg>`))).toBeDefined(),
    FAR_MS,
  );
});
