import { describe, expect, it } from "vitest";
import { commandReader, sheetReader } from "../../src/cli/command-reader.js";
import { errorOf, failureOf, SpotpitchError } from "../../src/core/errors.js";
import { libraryReader } from "../../src/core/reader.js";
import {
  type RefusalData,
  type RefusalId,
  refusal,
  refusals,
  refusedWith,
  sayRefusal,
} from "../../src/core/refusals/refusals.js";

const row = { row: 2, dose: 0.4, luminance: 0.2 };

/** What may stand in the words of each entry, in every form that the words have. */
const samples: { readonly [Id in RefusalId]: readonly RefusalData<Id>[] } = {
  "option-unknown": [{ option: "widht", known: ["widthMm", "heightMm"] }],
  "option-takes": [{ option: "widthMm", allowed: "more than 0", got: "-9" }],
  "option-of-other-work": [{ option: "darkness", of: "shade", kind: "photo" }],
  "bare-given-twice": [{}],
  "spread-given-twice": [{}],
  "spot-and-optics": [{}],
  "power-without-density": [{ material: "maple" }],
  "power-without-any-density": [{ material: "maple", percent: 40 }],
  "defocus-needs-wavelength": [{}],
  "defocus-too-far": [{ spotMm: 7.25, maxMm: 5 }],
  "optics-incomplete": [{ option: "focalLengthMm" }],
  "option-not-for-solid": [
    { option: "method", lacks: "halftone", instead: "threshold" },
    { option: "gamma", lacks: "tones" },
  ],
  "option-needs-photo": [{ option: "crop" }],
  "too-many-candidates": [{ count: 40, max: 30 }],
  "material-unknown": [{ material: "mapel", near: ["maple"] }],
  "material-forbidden": [{ material: "vinyl", why: "It is PVC." }],
  "material-not-an-object": [{}, { file: "board.json" }],
  "material-unknown-field": [{ field: "colour", known: ["name", "source"] }],
  "material-missing-field": [{ field: "source", wanted: "a note" }],
  "material-wrong-field": [{ field: "bareColor", wanted: "#rrggbb", got: "'brown'" }],
  "material-wrong-row": [{ row: 2 }],
  "material-negative-dose": [row],
  "material-wrong-luminance": [row],
  "material-falling-doses": [{ ...row, before: 0.5, file: "board.json" }],
  "material-turning": [row],
  "material-never-changes": [{}],
  "material-doses-like-percent": [{ maxDose: 100, file: "board.json" }],
  "material-no-range": [{ lightness: 0.4 }],
  "material-no-bare-row": [{ dose: 1 }],
  "material-solid-unmarked": [
    { dose: 4.2, solidDose: 1 },
    { dose: 420, solidDose: 100 },
  ],
  "material-all-solid": [
    { dose: 0.004, solidDose: 1 },
    { dose: 0.4, solidDose: 100 },
  ],
  "machine-not-an-object": [{}, { file: "mine.json" }],
  "machine-unknown-field": [{ field: "spot", known: ["name", "spotMm"] }],
  "machine-missing-name": [{}],
  "machine-wrong-field": [{ field: "speedMmPerS", wanted: "more than 0", got: "-9" }],
  "card-code-missing": [{ file: "card.jpg" }],
  "card-of-other-kind": [{ file: "card.jpg", text: "HARBOUR" }],
  "card-not-the-recipe": [{ file: "card.jpg", text: "SPOTPITCH1 W80", wanted: "SPOTPITCH1 W40" }],
  "card-frame-missing": [{ file: "card.jpg" }],
  "card-too-few-pixels": [{ file: "card.jpg", pxPerMm: 4.4, wanted: 8 }],
  "card-clipped": [{ file: "card.jpg", share: 0.3 }],
  "card-for-print": [{ file: "card.jpg" }],
  "card-two-codes": [{ file: "card.jpg" }],
  "card-blurred": [{ file: "card.jpg" }],
  "card-brighter-than-white": [{ file: "card.jpg", bare: 0.05, percent: 112 }],
  "card-sharpened": [{ file: "card.jpg", percent: 41 }],
  "card-uneven-light": [{ file: "card.jpg", percent: 24 }],
  "card-tones-by-place": [{ file: "card.jpg" }],
  "card-not-engraved": [{ file: "card.jpg" }],
  "card-patches-unlike": [{ file: "card.jpg" }],
  "card-too-faint": [{ file: "card.jpg" }],
  "paper-missing": [{ file: "card.jpg" }],
  "paper-not-alone": [{ file: "card.jpg" }],
  "card-pictures-none": [{}],
  "card-is-check": [{ file: "card.jpg" }],
  "check-recipe-other": [{ file: "card.json" }],
  "check-other-material": [{ material: "slate", darkens: "true" }],
  "card-other-material": [
    { material: "slate", darkens: "true" },
    { material: "maple", darkens: "false" },
  ],
  "method-unknown": [{ method: "flyod-steinberg", known: ["auto", "floyd-steinberg"] }],
  "method-flat-only": [{ method: "dose-feedback" }],
  "method-spot-too-wide": [{ method: "dose-feedback", maxPx: 12, spotPx: 14.2 }],
  "method-grid": [{ method: "stevenson-arce", min: 1.6, max: 1.8, ratio: 1, linesPerInchAlong: 880 }],
  "method-levels": [{ method: "green-noise", levels: 4, able: "auto, floyd-steinberg" }],
  "photo-empty": [{ name: '"boat.jpg"' }],
  "photo-damaged": [{ name: "The photo", kind: "a PNG picture" }],
  "photo-unreadable": [
    { name: "The mask", what: "not a picture that can be read", advice: "Check that it is the right file." },
    { name: "The mask", what: "a video, which cannot be read", advice: "" },
  ],
  "drawing-picture-damaged": [{ name: '"logo.svg"' }],
  "drawing-picture-not-shown": [{ name: '"logo.svg"', kind: "a WebP picture" }],
  "photo-too-large": [{ name: "The photo", columns: 30_000, rows: 30_000, maxPixels: 0x3fff ** 2 }],
  "method-searches": [
    { method: "burn-search", instead: "plan" },
    { method: "burn-search", instead: "stage" },
  ],
  "start-bitmap-unfit": [
    { fileName: undefined, why: "it has 8 × 6 pixels", columns: 9, rows: 6, levels: 2 },
    { fileName: "boat.burn.png", why: "it has 8 × 6 pixels", columns: 9, rows: 6, levels: 2 },
  ],
  "start-bitmap-other": [
    { fileName: undefined, error: 23.4 },
    { fileName: "boat.burn.png", error: 6 },
  ],
  "mask-shape": [
    { mask: [5, 5], photo: [8, 6] },
    { fileName: "keep.png", mask: [5, 5], photo: [8, 6] },
  ],
  "picture-too-wide": [{ widthMm: 250, roundMm: 229.3 }],
  "cone-without-wall": [{ topMm: 85, bottomMm: 62 }],
  "off-the-wall": [
    { fromMm: 120, toMm: 153.3, wallMm: 140 },
    { fromMm: -2.4, toMm: 30, wallMm: 140 },
  ],
  "text-on-round-piece": [{}],
  "text-without-glyph": [{ missing: "♥漢" }],
  "text-too-wide": [{ word: "Lighthouse", neededMm: 21.5, widthMm: 20, heightMm: 3 }],
  "wall-all-round": [{}],
  "round-only": [{ option: "place" }],
  "no-cone-wall": [{ topMm: 80, bottomMm: 20, slantMm: 25 }],
  "oval-on-round": [{}],
  "focus-on-flat-cone": [{}],
  "too-few-columns": [{ closedMm: 0.196, askedMm: 1.27 }],
  "no-cone": [
    { topMm: 80, bottomMm: 20, slantMm: 25 },
    { topMm: 80, bottomMm: 20, slantMm: 25, placed: true },
  ],
  "crop-outside": [
    { horizontal: [50, 110], photo: [100, 80] },
    { vertical: [-5, 60], photo: [100, 80] },
  ],
  "focus-outside": [
    { point: [200, 10], photo: [100, 80] },
    { point: [20, 10], kept: { size: [10, 10], from: [0, 0] }, photo: [100, 80] },
  ],
  "drawing-in-pixels": [{ option: "crop" }],
  "spread-part-unknown": [{ part: "lokal", known: ["common", "local"] }],
  "spread-part-empty": [{ part: "local", example: "4%" }],
  "spread-part-twice": [{ part: "local" }],
  "spread-part-outside": [{ part: "local", limits: "0 to 25 %", got: "30%" }],
  "fill-unmarked": [{ material: "test surface" }],
  "outline-too-wide": [{ option: "borderMm", sidesMm: [12, 9.6], takenMm: 5, roomMm: 4.8 }],
  "too-many-pixels": [{ columns: 600_000, rows: 450_000, maxPixels: 4e8 }],
  "board-settings-differ": [
    { one: "boat.jpg", other: "gull.jpg", lines: 254, otherLines: 300 },
    { one: "boat.jpg", other: "gull.jpg", lines: 254, otherLines: 254 },
  ],
  "board-and-jig": [{}],
  "copies-without-board": [{}],
  "board-of-round-piece": [{ name: "boat.jpg" }],
  "board-too-many-pixels": [{ name: "boat.jpg", columns: 60_000, rows: 40_000, maxPixels: 4e8 }],
  "board-too-small": [
    { name: "boat.jpg", widthMm: 80, heightMm: 53.333, room: { widthMm: 70, heightMm: 40 } },
    { name: "boat.jpg", widthMm: 80, heightMm: 53.333, room: { widthMm: 70, heightMm: 40 }, written: true },
  ],
  "card-too-small": [{}],
  "check-card-too-small": [{}],
  "card-too-coarse": [{ option: "linesPerInch", patchMm: 2.7, pitchMm: 0.2, largestMm: 0.1125 }],
  "card-lines-apart": [{ option: "linesPerInchAlong", pitchMm: 0.1, spotMm: 0.06 }],
  "decoder-missing": [{}],
  "memory-exceeded": [{ maxPages: 16 }],
  "plane-length": [{ rows: 2, columns: 3, length: 5 }],
  "cone-without-circumference": [{}],
  "samples-not-mappable": [{ start: 0, end: 9, samples: 8, pixels: 4 }],
  "surface-missing": [{ method: "dose-feedback" }],
  "workers-not-started": [{ code: "" }, { code: "EAGAIN" }],
  "worker-ended": [{ what: "A thread" }, { what: "A thread", why: "out of memory" }],
  "bitmap-not-kept": [{}],
  "nothing-predicted": [{}],
  "bitmap-without-pitch": [{}],
  "bitmap-without-pixels": [{}],
  "bitmap-rows": [{ rows: 2, columns: 3 }],
};

const told = (Object.keys(samples) as RefusalId[]).flatMap((id) =>
  samples[id].map((data, k) => ({ id, data: data as never, sample: k + 1 })),
);

describe("what is refused", () => {
  it("has samples for the whole catalogue", () => {
    expect(Object.keys(samples).sort()).toEqual(Object.keys(refusals).sort());
  });

  it.each(told)("$id (sample $sample) is a sentence for every reader", ({ id, data }) => {
    const error = refusal(id, data);
    expect(error.message).toBe(sayRefusal(error, libraryReader));
    for (const reader of [libraryReader, commandReader, sheetReader]) {
      const said = sayRefusal(error, reader);
      expect(said).toMatch(/^\S.*\S\.$/s);
      expect(said).not.toMatch(/undefined|NaN|\[object| {2}/);
    }
    expect(error.message).not.toMatch(/(^|[\s(])--\w/);
  });

  it.each(told)("$id (sample $sample) goes to another thread and is said there", ({ id, data }) => {
    const error = refusal(id, data);
    const arrived = errorOf(structuredClone(failureOf(error)));
    expect(arrived.refusal).toEqual(error.refusal);
    expect(sayRefusal(arrived, commandReader)).toBe(sayRefusal(error, commandReader));
  });
});

describe("a refusal", () => {
  it("names an option as its reader does", () => {
    const error = refusal("wall-all-round", {}, { received: 40 });
    expect(error).toMatchObject({ code: "OPTION_CONFLICT", option: "wallMm", received: 40 });
    expect(error.message).toMatch(/^wallMm is for a picture/);
    expect(sayRefusal(error, commandReader)).toMatch(/^--wall is for a picture/);
    expect(sayRefusal(error, sheetReader)).toMatch(/^"wall" is for a picture/);
  });

  it("takes the option at fault from its data, where it is not always the same", () => {
    expect(refusal("option-needs-photo", { option: "mask" }).option).toBe("mask");
  });

  it("is told anew with what only the caller knows", () => {
    const error = refusal("material-never-changes", {});
    const named = refusedWith(error, { file: "board.json" });
    expect(named).toMatchObject({ code: error.code, option: "material", cause: error });
    expect(named.message).toMatch(/^The material file "board\.json" cannot be used: /);
  });

  it("of no entry is said as it is", () => {
    const error = new SpotpitchError("OUTPUT_BUSY", "Another run works here.");
    expect(sayRefusal(error, commandReader)).toBe("Another run works here.");
    expect(refusedWith(error, { file: "x" })).toBe(error);
  });
});
