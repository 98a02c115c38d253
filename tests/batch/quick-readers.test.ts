import { writeFileSync } from "node:fs";
import { afterAll, describe, expect, it } from "vitest";
import { drawingContent } from "../../src/1-photo/drawing/drawing-content.js";
import { deskRow } from "../../src/batch/desk/desk-row.js";
import { deskItem } from "../../src/batch/desk/desk-upload.js";
import { drawingDanger } from "../../src/batch/drawing-dangers.js";
import type { UploadEntry } from "../../src/batch/entry.js";
import { safeName } from "../../src/batch/output-names.js";
import { styleDanger } from "../../src/batch/style-dangers.js";
import { readSheet } from "../../src/cli/batch/sheet.js";
import { nearestNames } from "../../src/core/nearest-name.js";
import { parseCrop } from "../../src/options/parse-places.js";
import * as quantities from "../../src/options/quantities.js";
import { temporaryFolder } from "../cli/command.js";

/*
 * Texts made to keep a reader busy. Each takes a minute or more with a reader whose time grows faster than the length of the text, and
 * takes milliseconds with one that does not: the limit of time is far from both.
 */
const FAR_MS = 10_000;
const LENGTH = 400_000;
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

describe("elements inside one another", () => {
  // The renderer takes 2048 (XML_PARSE_HUGE of libxml2).
  const nested = (depth: number): Uint8Array => Buffer.from(`${SVG}${"<g>".repeat(depth)}`);

  it.each([
    [2048, undefined],
    [3001, /inside one another/],
    [LENGTH, /inside one another/],
  ])(
    "%i deep are judged in a moment",
    (depth, wanted) => expect(drawingDanger(nested(depth))?.what ?? "").toMatch(wanted ?? /^$/),
    FAR_MS,
  );

  it("are looked through no deeper than the renderer goes", () => {
    expect(drawingContent(nested(2048)).elements).toBe(2049);
    expect(drawingContent(nested(LENGTH)).elements).toBeLessThan(4000);
  });

  it("are not counted once they are closed", () => {
    const many = Buffer.from(`${SVG}${"<g></g><rect/>".repeat(4000)}<script/></svg>`);
    expect(drawingDanger(many)?.what).toBe("a script");
    expect(drawingContent(many).elements).toBe(8002);
  });
});

describe("styles are read in a moment", () => {
  // A reader whose time grows with the square took 10 s for a quarter of it.
  const namespaces = repeated("@namespace ").repeat(4);
  it.each([
    ["namespaces without an end", namespaces, undefined],
    ["namespaces without an end, and a reference", `${namespaces}url(boat.svg)`, /another file/],
    ["namespaces that end", repeated("@namespace url(http://quay.example/); "), undefined],
    ["openings of comments", `(${repeated("/*")}`, undefined],
    ["openings of addresses", repeated("url(#a "), undefined],
    ["a reference of any length, told in short", `url(${repeated("quay/")})`, /^.{50,120}$/],
  ])("%s", (_what, style, wanted) => expect(styleDanger(style)?.what ?? "").toMatch(wanted ?? /^$/), FAR_MS);
});

describe("cells of a job sheet are read in a moment", () => {
  const folder = temporaryFolder();
  afterAll(() => folder.remove());
  const digits = repeated("1");
  const spaces = repeated(" ");

  it.each(
    [
      quantities.parseLengthMm,
      quantities.parseNumber,
      quantities.parsePitchMm,
      quantities.parseSpeedMmPerS,
      quantities.parseAccelerationMmPerS2,
      quantities.parseSpot,
      quantities.parseAround,
      quantities.parseSize,
      quantities.parseWavelengthMm,
      quantities.parseMicroseconds,
      quantities.parsePercent,
      quantities.parseAngleDeg,
      parseCrop,
    ].map((parse) => [parse.name, parse] as const),
  )(
    "%s",
    (_name, parse) => {
      for (const text of [`${digits}!`, `1${spaces}!`, `${digits}.${digits}!`, `1${repeated(",1")}!`]) {
        expect(() => parse("width", text)).toThrow(expect.objectContaining({ code: "OPTION_INVALID" }));
      }
    },
    FAR_MS,
  );

  it(
    "a misspelt name of any length",
    () => {
      const names = Array.from({ length: 3000 }, (_, i) => `quay-${i}`);
      expect(nearestNames(digits, names)).toEqual([]);
    },
    FAR_MS,
  );

  it.each(["   ", ". ", "."])(
    "a name with %j in it",
    (part) => expect(safeName(`a${repeated(part)}b`)).toMatch(/^a[. ]+-[0-9a-f]{10}$/),
    FAR_MS,
  );

  it(
    "a note of spaces",
    () => {
      const entry: UploadEntry = {
        ...{ file: "boat.jpg", state: "refused", grade: "ask", code: "INPUT_EMPTY", message: "" },
        ...{ outputs: [], findings: [], note: `a${spaces}b` },
      };
      expect(deskRow(deskItem({ entry }), { entry })).toContain(`a${spaces}b`);
    },
    FAR_MS,
  );

  it(
    "many rows under many commas",
    async () => {
      const rows = 25_000;
      const path = folder.in("jobs.csv");
      writeFileSync(path, `file${",".repeat(LENGTH / 2)}\n${"boat.jpg\n".repeat(rows)}`);
      expect(await readSheet(path)).toHaveLength(rows);
    },
    FAR_MS,
  );
});
