import { beforeAll, expect, it } from "vitest";
import { halftoneMethods } from "../../../src/4-halftone/catalogue.js";
import { sayLeftOut } from "../../../src/6-report/words/left-out.js";
import { libraryReader } from "../../../src/core/reader.js";
import type { CompareOptions } from "../../../src/index.js";
import { checkCompareOptions } from "../../../src/options/compare-options.js";
import { candidatesOf } from "../../../src/sweep/compare/candidates.js";
import { middleOf } from "../../pipeline/photograph.js";
import { compare } from "../../support/prepare.js";

let photo: Uint8Array;
beforeAll(async () => {
  photo = await middleOf("nagasaki-boats", 48);
});
const compared = (options: CompareOptions) => compare(photo, { widthMm: 3, ...options }, { threads: 1 });

/** What is left out, with the reason. `cli/compare.test.ts` reads it from a whole comparison. */
const leftOutOf = (options: CompareOptions): string[] =>
  candidatesOf(checkCompareOptions(options)).leftOut.map(
    ({ method, misfit }) => `${method}: ${sayLeftOut(misfit, libraryReader)}`,
  );

// By the papers of the methods: Stevenson and Arce's grid is hexagonal; the others decide on or off.
it("methods that do not suit a piece are left out of all of them, with the reason", () => {
  const options: CompareOptions = { widthMm: 3, method: "all", levels: 4, linesPerInch: 127 };
  const { asked, leftOut } = candidatesOf(checkCompareOptions(options));
  const all = [...asked, ...leftOut].map(({ method }) => method);
  expect(all.sort()).toEqual(halftoneMethods.map(({ id }) => id).sort());
  const words = leftOutOf(options);
  expect(words).toContainEqual(
    expect.stringMatching(/^stevenson-arce: it needs lines .* as far apart as the pixels/),
  );
  for (const method of ["green-noise", "dose-feedback", "dot-diffusion", "dot-diffusion-16"]) {
    expect(words).toContainEqual(
      `${method}: it burns dots that are on or off, and cannot use 4 power levels`,
    );
  }
  expect(words).toHaveLength(5);
});

it("out of the usual handful too, and nothing is said where nothing is left out", () => {
  expect(leftOutOf({ aroundMm: 2.5 })).toEqual([
    "dose-feedback: it is for flat pieces, and this one goes round",
  ]);
  expect(leftOutOf({ widthMm: 3, method: ["stucki"] })).toEqual([]);
});

it("but a method that was named is refused", async () => {
  await expect(compared({ method: ["stucki", "green-noise"], levels: 4 })).rejects.toMatchObject({
    code: "OPTION_METHOD_LEVELS",
  });
});

it("an option is called idle only if no candidate uses it, and then in the same words for all", async () => {
  const made = await compared({ method: ["clustered-dot", "bayer-8"], screenAngleDeg: 20, clumping: 0.5 });
  const idle = made.candidates.map(({ warnings }) =>
    warnings.filter(({ code }) => code === "option-idle").map(({ message }) => message),
  );
  expect(idle[0]).toEqual([expect.stringMatching(/^clumping changes nothing here: .* there is none here\./)]);
  expect(idle[1]).toEqual(idle[0]);
});
