import { expect, it } from "vitest";
import { namedMethods } from "../../src/4-halftone/catalogue.js";
import { shortMaterialSource, shortMethodSource } from "../../src/cli/short-source.js";

it.each([
  [
    'A. B. Mast and C.-D. Sail, "On rigging", Proc. Harbour 17(2), 75-77 (shown in 1975), 1976',
    "Mast, Sail 1976",
  ],
  ['É. Mast, B. Sail and C. Keel, "Boats of 1900", 1985', "Mast, Sail, Keel 1985"],
  ["W. Keel, unpublished, 1984", "Keel 1984"],
  ['R. Mast, "One", 1993; D. L. Sail and G. Keel, "Two", 1998', "Mast 1993; Sail, Keel 1998"],
  ['T. Mast, "One", 1980; function of ISO 32000-1, 10.5.5', "Mast 1980"],
  ["definition: burn where it is dark", "by definition"],
  ["an old fisherman", "an old fisherman"],
])("method source %j is %j", (source, short) => {
  expect(shortMethodSource(source)).toBe(short);
});

it("every method has a short source with a year, or is defined", () => {
  for (const { id, source } of namedMethods) {
    expect(shortMethodSource(source), id).toMatch(/^(\p{Lu}[\p{L}, ]+ (19|20)\d\d(; )?)+$|^by definition$/u);
  }
});

it.each([
  ["illustrative: the ends are assumed", "illustrative"],
  [
    "illustrative: the drop is published (Mast, Sail & Keel, Boats 13(2), 2515 (2018), 45 W); ends assumed",
    "illustrative; in part Mast, Sail & Keel 2018",
  ],
  [
    "illustrative: ends; bubbles (Mast et al., Surf 253, 6442 (2007))",
    "illustrative; in part Mast et al. 2007",
  ],
  ["measured 2026-05-01", "measured 2026-05-01"],
])("material source %j is %j", (source, short) => {
  expect(shortMaterialSource(source)).toBe(short);
});
