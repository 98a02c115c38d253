import sharp from "sharp";
import { describe, expect, it } from "vitest";
import type { Photo } from "../../src/1-photo/photo.js";
import type { Warning, WarningCode } from "../../src/6-report/report.js";
import { warningRules } from "../../src/6-report/words/warnings.js";
import { findingsOf, pieceVerdict } from "../../src/batch/outcome.js";
import { type PrepareOptions, resolveOptions } from "../../src/options/options.js";
import type { Finding, FindingCode } from "../../src/pipeline/triage/findings.js";
import { type Grade, gradeOf } from "../../src/pipeline/triage/findings.js";
import { type Triage, triagePhoto } from "../../src/pipeline/triage/triage.js";
import { finding, importance, inOrder, shopWords } from "../../src/pipeline/triage/words.js";
import { piece } from "../6-report/words/flawless-piece.js";
import {
  bars,
  blocks,
  type CodeAt,
  dots,
  drawing,
  lightnessRamp,
  opacityOf,
  photoOf,
  softTones,
  withBand,
  withGrain,
} from "./made-pictures.js";

/** A picture, its options, and the grade of one finding. */
interface Case {
  readonly what: string;
  readonly grade: Grade;
  readonly photo: () => Photo;
  readonly options?: PrepareOptions;
  /** Findings in addition to the tested one. */
  readonly beside?: readonly FindingCode[];
}

/** 1000 pixels on 80 mm are 12.5 a millimetre; spot and pitch of 0.1 mm show 10. */
const usual: PrepareOptions = { kind: "photo", widthMm: 80, spotMm: 0.1, linesPerInch: 254 };

const triage = ({ photo, options = {} }: Pick<Case, "photo" | "options">) =>
  triagePhoto(photo(), resolveOptions({ ...usual, ...options }));

const soft = (changes: Partial<Photo> = {}) => photoOf(softTones(), changes);
const sized = (columns: number, rows: number) => photoOf(softTones(0.15, 0.85, columns), {}, [columns, rows]);
const banded = (bandRows: number, code: number, changes: Partial<Photo> = {}) =>
  photoOf(withBand(bandRows, code, softTones()), changes);
const solid = { kind: "solid" } as const;
const png = { format: "png" } as const;
/** 500 pixels on 25 mm are 20 a millimetre: two for each spot. */
const fine = { widthMm: 25 } as const;
const grainy = (codes: number, below: CodeAt) => photoOf(withGrain(codes, below), {}, [500, 375]);

/** Pieces of another shape than the picture's 4 : 3. */
const filling = (heightMm: number): PrepareOptions => ({ heightMm });
const stretching = (heightMm: number): PrepareOptions => ({ heightMm, fit: "stretch" });

/** 37 of 750 rows are less than a twentieth, 38 are more. A code of half an 8-bit step, 128, from the end is no longer at the end. */
const atAnEnd = (end: number, inwards: number): readonly Case[] => [
  { what: "in less than a twentieth", grade: "ready", photo: () => banded(37, end) },
  { what: "in more", grade: "note", photo: () => banded(38, end) },
  { what: "nearly at the end", grade: "note", photo: () => banded(38, end + 127 * inwards) },
  { what: "short of the end", grade: "ready", photo: () => banded(38, end + 128 * inwards) },
  { what: "in a drawing in two tones", grade: "ready", photo: () => banded(38, end), options: solid },
  { what: "in a drawing", grade: "ready", photo: () => banded(38, end, { format: "svg" }) },
  {
    what: "where nearly clear, less than a fiftieth opaque",
    grade: "ready",
    photo: () => banded(38, end, opacityOfBand(0x051e)),
    beside: ["TRANSPARENT"],
  },
  {
    what: "where half opaque: paper shines through black, and makes white no darker",
    grade: end === 0 ? "ready" : "note",
    photo: () => banded(38, end, opacityOfBand(0x8000)),
    beside: ["TRANSPARENT"],
  },
  {
    what: "in a part that a crop leaves out",
    grade: "ready",
    photo: () => banded(38, end),
    options: { crop: { leftPx: 0, topPx: 40, widthPx: 1000, heightPx: 700 } },
  },
];

/** The band of 38 rows is less opaque than the rest. */
function opacityOfBand(opacity: number): Pick<Photo, "opacity"> {
  const made = opacityOf(65535);
  made.opacity?.pixels.data.fill(opacity, 0, 38 * 1000);
  return made;
}

/** So many rows are transparent. */
function opacityOfRows(rows: number): Pick<Photo, "opacity"> {
  const made = opacityOf(65535);
  made.opacity?.pixels.data.fill(0, 0, rows * 1000);
  return made;
}

/** Made pictures on either side of every limit. Where a figure follows from arithmetic, that stands beside it. */
const cases: Readonly<Record<FindingCode, readonly Case[]>> = {
  DAMAGED: [
    { what: "a file that looks so", grade: "ask", photo: () => soft({ looksDamaged: true }) },
    { what: "one that does not", grade: "ready", photo: () => soft() },
  ],
  // 800 pixels on 80 mm: 19 of 20, and half of them.
  TOO_FEW_PIXELS: [
    { what: "762 pixels", grade: "ready", photo: () => sized(762, 572) },
    { what: "758 pixels", grade: "note", photo: () => sized(758, 569) },
    { what: "402 pixels", grade: "note", photo: () => sized(402, 300) },
    { what: "398 pixels", grade: "ask", photo: () => sized(398, 300) },
    {
      what: "402 pixels, lines half as dense",
      grade: "ready",
      photo: () => sized(402, 300),
      options: { linesPerInch: 127 },
    },
    {
      what: "402 pixels, a spot twice as wide",
      grade: "ready",
      photo: () => sized(402, 300),
      options: { spotMm: 0.2 },
    },
    { what: "398 pixels in two tones", grade: "ask", photo: () => sized(398, 300), options: solid },
    {
      what: "a drawing, which has no pixels",
      grade: "ready",
      photo: () => photoOf(softTones(), { format: "svg" }, [398, 300]),
    },
  ],
  // Full width at half maximum of 2.3548 σ, at 1.25 pixels for each spot. Below: limits.
  BLURRED: [
    { what: "no edges", grade: "ready", photo: () => soft() },
    { what: "1.5 spots", grade: "ready", photo: () => photoOf(bars(0.8)) },
    // Lone edges read as twice their blur: in photographs they lie beside others.
    { what: "3.8 spots at lone edges", grade: "ask", photo: () => photoOf(bars(2)) },
    {
      what: "sharp in pixels that are too few",
      grade: "ready",
      photo: () => photoOf(bars(0.5)),
      options: { widthMm: 150 },
      beside: ["TOO_FEW_PIXELS"],
    },
    { what: "in two tones", grade: "ready", photo: () => photoOf(bars(6)), options: solid },
  ],
  // Two pixels for each spot both ways: the mean of four has half the noise of one.
  GRAINY: [
    {
      what: "4.5 codes on a spot",
      grade: "ready",
      photo: () => grainy(9, softTones(0.15, 0.85, 500)),
      options: fine,
    },
    {
      what: "5.5 codes on a spot",
      grade: "note",
      photo: () => grainy(11, softTones(0.15, 0.85, 500)),
      options: fine,
    },
    {
      what: "13.5 codes on a spot",
      grade: "note",
      photo: () => grainy(27, softTones(0.15, 0.85, 500)),
      options: fine,
    },
    {
      what: "16.5 codes on a spot",
      grade: "ask",
      photo: () => grainy(33, softTones(0.15, 0.85, 500)),
      options: fine,
    },
    // A ramp over 0.1 of the scale has the standard deviation 25.5 / √12 = 7.4 codes.
    {
      what: "half as strong as the picture",
      grade: "ask",
      photo: () => grainy(9, softTones(0.45, 0.55, 500)),
      options: fine,
      beside: ["LOW_CONTRAST"],
    },
    {
      what: "less than that",
      grade: "ready",
      photo: () => grainy(6, softTones(0.45, 0.55, 500)),
      options: fine,
      beside: ["LOW_CONTRAST"],
    },
    {
      what: "in two tones",
      grade: "ready",
      photo: () => grainy(33, softTones(0.15, 0.85, 500)),
      options: { ...fine, ...solid },
    },
  ],
  CLIPPED_HIGHLIGHTS: [
    ...atAnEnd(65535, -1),
    {
      what: "on a screen",
      grade: "ready",
      photo: () => photoOf(withBand(80, 65535, withBand(350, 30_000, softTones())), { format: "png" }),
      beside: ["SCREENSHOT"],
    },
  ],
  CLIPPED_SHADOWS: [
    ...atAnEnd(0, 1),
    {
      what: "on a screen",
      grade: "ready",
      photo: () => photoOf(withBand(80, 0, withBand(350, 30_000, softTones())), { format: "png" }),
      beside: ["SCREENSHOT"],
    },
  ],
  // The encoded scale has its middle at L* 53.4 (IEC 61966-2-1, CIE 15). From the 1st to the 99th percentile: 0.98 of a ramp.
  TOO_DARK: [
    { what: "up to L* 53.1", grade: "note", photo: () => photoOf(lightnessRamp(12, 53.5)) },
    {
      what: "up to L* 53.7",
      grade: "ready",
      photo: () => photoOf(lightnessRamp(12, 54.1)),
      beside: ["LOW_CONTRAST"],
    },
    { what: "of 0.98 · 19.8 = 19.4 L*", grade: "ask", photo: () => photoOf(lightnessRamp(1, 20.8)) },
    { what: "of 0.98 · 46.5 = 45.6 L*", grade: "ready", photo: () => photoOf(lightnessRamp(1, 47.5)) },
    // Nothing more is said of the same: that it piles up at black, and is even where it has few steps.
    { what: "and black", grade: "note", photo: () => photoOf(withBand(38, 0, lightnessRamp(5, 45))) },
    { what: "and even", grade: "note", photo: () => photoOf(withBand(300, 8000, lightnessRamp(5, 45)), png) },
    { what: "in two tones", grade: "ready", photo: () => photoOf(lightnessRamp(1, 20.8)), options: solid },
  ],
  TOO_PALE: [
    { what: "down to L* 53.7", grade: "note", photo: () => photoOf(lightnessRamp(53.3, 95)) },
    {
      what: "down to L* 53.1",
      grade: "ready",
      photo: () => photoOf(lightnessRamp(52.7, 95)),
      beside: ["LOW_CONTRAST"],
    },
    { what: "of 0.98 · 19.8 = 19.4 L*", grade: "ask", photo: () => photoOf(lightnessRamp(79, 98.8)) },
    { what: "and white", grade: "note", photo: () => photoOf(withBand(38, 65535, lightnessRamp(60, 95))) },
  ],
  // From the 1st to the 99th percentile of a ramp that is even in L*: 0.98 of its span.
  LOW_CONTRAST: [
    { what: "0.98 · 46.5 = 45.6 L*", grade: "ready", photo: () => photoOf(lightnessRamp(30, 76.5)) },
    { what: "0.98 · 45.3 = 44.4 L*", grade: "note", photo: () => photoOf(lightnessRamp(30, 75.3)) },
    { what: "0.98 · 21 = 20.6 L*", grade: "note", photo: () => photoOf(lightnessRamp(40, 61)) },
    { what: "0.98 · 19.8 = 19.4 L*", grade: "ask", photo: () => photoOf(lightnessRamp(40, 59.8)) },
    { what: "in two tones", grade: "ready", photo: () => photoOf(lightnessRamp(40, 59.8)), options: solid },
  ],
  // Blocks of 0.64 mm. The spot leaves exp(−π²/8 · (0.1/0.64)²) = 0.970 of their steps (Boreman 2001), and the eye at 300 mm
  // exp(−(5.236/0.64)/5.964) = 0.254 (Näsänen 1984): 0.246 together.
  BLOCKS: [
    { what: "0.246 · 1.15 = 0.28 codes", grade: "ready", photo: () => photoOf(blocks(1.15)) },
    { what: "0.246 · 1.3 = 0.32 codes", grade: "note", photo: () => photoOf(blocks(1.3)) },
    { what: "0.246 · 2.25 = 0.55 codes", grade: "note", photo: () => photoOf(blocks(2.25)) },
    { what: "0.246 · 2.5 = 0.61 codes", grade: "ask", photo: () => photoOf(blocks(2.5)) },
    { what: "in two tones", grade: "ready", photo: () => photoOf(blocks(2.5)), options: solid },
  ],
  // Either dot is two jumps. 675 of 750 rows are nine tenths.
  ALREADY_DITHERED: [
    { what: "2 jumps in 33 pixels: 0.061", grade: "ask", photo: () => photoOf(dots(33, 0)) },
    {
      what: "2 jumps in 34 pixels: 0.059",
      grade: "ready",
      photo: () => photoOf(dots(34, 0)),
      beside: ["GRAINY"],
    },
    { what: "grey in 74 rows", grade: "ask", photo: () => photoOf(dots(4, 74)) },
    {
      what: "grey in 76 rows",
      grade: "ready",
      photo: () => photoOf(dots(4, 76)),
      beside: ["GRAINY"],
    },
    { what: "in two tones", grade: "ready", photo: () => photoOf(dots(4, 0)), options: solid },
  ],
  // Of 750 rows 150 are a fifth; of an even band, the last 16 rows have something else below them.
  SCREENSHOT: [
    { what: "even in 151 rows", grade: "note", photo: () => banded(167, 30_000, { format: "png" }) },
    { what: "even in 149 rows", grade: "ready", photo: () => banded(165, 30_000, { format: "png" }) },
    ...(["webp", "gif", "tiff"] as const).map(
      (format): Case => ({ what: format, grade: "note", photo: () => banded(400, 30_000, { format }) }),
    ),
    ...(["jpeg", "avif"] as const).map(
      (format): Case => ({
        what: `${format}, which loses`,
        grade: "ready",
        photo: () => banded(400, 30_000, { format }),
      }),
    ),
    {
      what: "even at the end of the scale",
      grade: "ready",
      photo: () => banded(400, 65535, { format: "png" }),
      beside: ["CLIPPED_HIGHLIGHTS"],
    },
    {
      what: "in two tones",
      grade: "ready",
      photo: () => banded(400, 30_000, { format: "png" }),
      options: solid,
    },
  ],
  ARTWORK: [
    // Inks half the scale apart are too pale to be taken for artwork, and few enough to look like it.
    {
      what: "two tones, neither black nor white",
      grade: "note",
      photo: () => photoOf(drawing(0.25, 0.75)),
      options: { kind: "auto" },
    },
    { what: "said to be a photo", grade: "ready", photo: () => photoOf(drawing(0.25, 0.75)) },
    {
      what: "black and white, and so engraved in two tones",
      grade: "ready",
      photo: () => photoOf(drawing(0.02, 0.98)),
      options: { kind: "auto" },
    },
    { what: "many tones", grade: "ready", photo: () => soft(), options: { kind: "auto" } },
    {
      what: "dots, of which that is told",
      grade: "ready",
      photo: () => photoOf(dots(20, 0)),
      options: { kind: "auto" },
      beside: ["ALREADY_DITHERED"],
    },
  ],
  TRANSPARENT: [
    { what: "opacity", grade: "note", photo: () => soft(opacityOf(0xc000)) },
    { what: "none", grade: "ready", photo: () => soft() },
    // Of 750 rows, 3 are 0.4 % and 5 are 0.7 %. 254 of 255 everywhere let through 0.4 %.
    { what: "3 rows", grade: "ready", photo: () => soft(opacityOfRows(3)) },
    { what: "5 rows", grade: "note", photo: () => soft(opacityOfRows(5)) },
    { what: "one step of 255 everywhere", grade: "ready", photo: () => soft(opacityOf(257 * 254)) },
  ],
  MANY_PAGES: [
    { what: "two pages", grade: "note", photo: () => soft({ pages: 2 }) },
    { what: "one page", grade: "ready", photo: () => soft({ pages: 1 }) },
  ],
  TEXT_NOT_OUTLINED: [
    { what: "a drawing with text", grade: "ask", photo: () => soft({ format: "svg", hasText: true }) },
    { what: "a drawing without", grade: "ready", photo: () => soft({ format: "svg" }) },
  ],
  // 80 mm are 60 mm high when all is shown: four fifths are 48 mm, three fifths 36 mm.
  CROPPED: [
    { what: "to 48.2 of 60 mm", grade: "ready", photo: () => soft(), options: filling(48.2) },
    { what: "to 47.8 of 60 mm", grade: "note", photo: () => soft(), options: filling(47.8) },
    { what: "to 36.2 of 60 mm", grade: "note", photo: () => soft(), options: filling(36.2) },
    { what: "to 35.8 of 60 mm", grade: "ask", photo: () => soft(), options: filling(35.8) },
    {
      what: "not where all is contained",
      grade: "ready",
      photo: () => soft(),
      options: { heightMm: 35.8, fit: "contain" },
    },
  ],
  // 60 / 1.05 = 57.1 and 60 / 1.2 = 50; 60 · 1.05 = 63 and 60 · 1.2 = 72.
  STRETCHED: [
    { what: "60 to 57.3 mm", grade: "ready", photo: () => soft(), options: stretching(57.3) },
    { what: "60 to 56.9 mm", grade: "note", photo: () => soft(), options: stretching(56.9) },
    { what: "60 to 50.2 mm", grade: "note", photo: () => soft(), options: stretching(50.2) },
    { what: "60 to 49.8 mm", grade: "ask", photo: () => soft(), options: stretching(49.8) },
    { what: "60 to 62.8 mm", grade: "ready", photo: () => soft(), options: stretching(62.8) },
    { what: "60 to 63.2 mm", grade: "note", photo: () => soft(), options: stretching(63.2) },
    { what: "60 to 71.8 mm", grade: "note", photo: () => soft(), options: stretching(71.8) },
    {
      what: "60 to 72.2 mm",
      grade: "ask",
      photo: () => soft(),
      options: stretching(72.2),
    },
  ],
  EXTREME_SHAPE: [
    { what: "1000 × 251", grade: "ready", photo: () => sized(1000, 251) },
    { what: "1000 × 249", grade: "note", photo: () => sized(1000, 249) },
    { what: "1000 × 101", grade: "note", photo: () => sized(1000, 101) },
    { what: "1000 × 99", grade: "ask", photo: () => sized(1000, 99) },
    { what: "251 × 1000", grade: "ready", photo: () => sized(251, 1000), options: { widthMm: 20 } },
    { what: "249 × 1000", grade: "note", photo: () => sized(249, 1000), options: { widthMm: 20 } },
    { what: "99 × 1000", grade: "ask", photo: () => sized(99, 1000), options: { widthMm: 8 } },
    {
      what: "both sides given",
      grade: "ready",
      photo: () => sized(1000, 99),
      options: { heightMm: 7.9 },
    },
    {
      what: "cropped to 1000 × 249",
      grade: "note",
      photo: () => soft(),
      options: { crop: { leftPx: 0, topPx: 0, widthPx: 1000, heightPx: 249 } },
    },
  ],
  // What only the prepared piece shows: below.
  NOTHING_BURNS: [],
  COLOURS_MERGE: [],
  PARTS_LOST: [],
  SHADES_LOST: [],
};

const ofPiece: readonly FindingCode[] = ["NOTHING_BURNS", "COLOURS_MERGE", "PARTS_LOST", "SHADES_LOST"];
const ofPhoto = (Object.keys(cases) as FindingCode[]).filter((code) => !ofPiece.includes(code));

describe.each(ofPhoto)("%s", (code) => {
  it.each(cases[code])("$what: $grade", async (each) => {
    const { findings, grade } = await triage(each);
    const expected = [...(each.beside ?? []), ...(each.grade === "ready" ? [] : [code])];
    expect(findings.map((finding) => finding.code).sort()).toEqual(expected.sort());
    expect(findings.find((finding) => finding.code === code)?.grade ?? "ready").toBe(each.grade);
    if (!each.beside) expect(grade).toBe(each.grade);
  });

  it("has cases in which it is found and in which it is not", () => {
    const grades = cases[code].map(({ grade }) => grade);
    expect(grades).toContain("ready");
    expect(grades.some((grade) => grade !== "ready")).toBe(true);
  });
});

describe("blur", () => {
  it("is told above 3.5 spots and asked about above 4, by the figure that is told", async () => {
    const grades = new Set<string>();
    for (let spotMm = 0.3; spotMm < 0.52; spotMm += 0.03) {
      const { figures, findings } = await triage({ photo: () => photoOf(bars(4)), options: { spotMm } });
      const { blurSpots = 0 } = figures;
      const grade = findings.find(({ code }) => code === "BLURRED")?.grade ?? "ready";
      expect([blurSpots, grade]).toEqual([
        blurSpots,
        blurSpots > 4 ? "ask" : blurSpots > 3.5 ? "note" : "ready",
      ]);
      grades.add(grade);
    }
    expect([...grades]).toEqual(["ask", "note", "ready"]);
  });
});

it("transparency that the user's own mask makes is not told", async () => {
  const mask = await sharp({ create: { width: 8, height: 6, channels: 3, background: "#fff" } })
    .png()
    .toBuffer();
  expect((await triage({ photo: () => soft(), options: { mask } })).findings).toEqual([]);
});

describe("findings in order", () => {
  const of = (code: FindingCode, grade: "note" | "ask" = "note") => ({
    ...{ code, grade, message: "", customer: "", data: {} },
  });
  const codes = (...findings: readonly Finding[]) => inOrder(findings).map(({ code }) => code);

  it("are questions first, and of either the most important first", () => {
    expect(codes(of("TRANSPARENT"), of("CROPPED", "ask"), of("COLOURS_MERGE"), of("DAMAGED", "ask"))).toEqual(
      [...["DAMAGED", "CROPPED", "COLOURS_MERGE", "TRANSPARENT"]],
    );
  });

  it("know a place for every finding", () => {
    expect([...importance].sort()).toEqual(Object.keys(shopWords).sort());
  });

  it("say once that there is nothing, and once that it is a drawing", () => {
    expect(codes(of("LOW_CONTRAST", "ask"), of("CLIPPED_HIGHLIGHTS"), of("NOTHING_BURNS", "ask"))).toEqual([
      "NOTHING_BURNS",
    ]);
    // A larger file of one grey shows no more.
    expect(codes(of("TOO_FEW_PIXELS"), of("NOTHING_BURNS", "ask"))).toEqual(["NOTHING_BURNS"]);
    expect(codes(of("SCREENSHOT"), of("BLOCKS", "ask"), of("ARTWORK"))).toEqual(["ARTWORK"]);
    expect(codes(of("SCREENSHOT"), of("BLOCKS", "ask"))).toEqual(["BLOCKS"]);
  });
});

// 90 mm are 212.6 pixels of 25.4/60 mm, so the piece of 213 pixels is 90.17 mm wide.
it("names the size that was asked for, and not that of the bitmap", async () => {
  const options = { widthMm: 90, linesPerInch: 60, spotMm: 0.4 };
  const { findings } = await triage({ photo: () => sized(200, 150), options });
  expect(findings.map(({ message }) => message).join()).toContain("At a width of 90 mm");
});

it("questions come before remarks, and the worst gives the grade", async () => {
  const { findings, grade } = await triage({
    photo: () => photoOf(softTones(0.15, 0.85, 398), { pages: 3 }, [398, 90]),
  });
  expect(findings.map(({ code }) => code)).toEqual(["TOO_FEW_PIXELS", "EXTREME_SHAPE", "MANY_PAGES"]);
  expect(findings.map((finding) => finding.grade)).toEqual(["ask", "note", "note"]);
  expect(grade).toBe("ask");
});

describe("findings of the prepared piece", () => {
  const found: Partial<Record<WarningCode, readonly FindingCode[]>> = {
    "nothing-burns": ["NOTHING_BURNS"],
    "nothing-to-see": ["NOTHING_BURNS"],
    "colours-merge": ["COLOURS_MERGE"],
    "distinctions-lost": ["PARTS_LOST"],
    "grey-areas": ["SHADES_LOST"],
    "not-as-drawn": ["SHADES_LOST"],
  };

  it.each(Object.keys(warningRules) as WarningCode[])("of the warning %s", (code) => {
    expect(findingsOf([{ code }]).map((finding) => finding.code)).toEqual(found[code] ?? []);
  });

  it("ask where nothing burns, and then say no more; lost shades are a remark, told once", () => {
    const all = findingsOf([{ code: "grey-areas" }, { code: "nothing-burns" }]);
    expect(all.map(({ code, grade }) => [code, grade])).toEqual([["NOTHING_BURNS", "ask"]]);
    const shades = findingsOf([{ code: "not-as-drawn" }, { code: "grey-areas" }]);
    expect(shades.map(({ code, grade }) => [code, grade])).toEqual([["SHADES_LOST", "note"]]);
    expect(findingsOf([])).toEqual([]);
  });
});

describe("warnings of a batch", () => {
  const warning = (code: WarningCode): Warning => ({ code, message: "", data: {} });
  const verdict = (codes: readonly WarningCode[], found: readonly FindingCode[]) => {
    const findings = found.map(
      (code) => ({ code, grade: "note", message: "", customer: "", data: {} }) as const,
    );
    const figures = { widthPx: 1600, heightPx: 1200 } as Triage["figures"];
    const report = { ...piece, warnings: codes.map(warning) };
    return pieceVerdict({ findings, figures, grade: "note" }, report).warnings?.map(({ code }) => code);
  };

  it.each<[WarningCode, FindingCode]>([
    ["photo-damaged", "DAMAGED"],
    ["looks-like-artwork", "ARTWORK"],
    ["few-tones", "TOO_DARK"],
    ["few-tones", "TOO_PALE"],
    ["few-tones", "LOW_CONTRAST"],
  ])("leave out %s where the finding %s says the same", (code, finding) => {
    expect(verdict([code, "spot-large"], [finding])).toEqual(["spot-large"]);
    expect(verdict([code, "spot-large"], ["MANY_PAGES"])).toEqual([code, "spot-large"]);
  });
});

it("tones are said to be changed only as what a user may do: automatic levels may be off", () => {
  const data = { grade: "note", share: 0.1 } as const;
  for (const code of ["TOO_DARK", "TOO_PALE", "LOW_CONTRAST"] as const) {
    const { message, customer } = finding(code, data);
    expect(message + customer).not.toMatch(/\bWe (brighten|darken|raise)|\bis raised/i);
    for (const words of [message, customer]) expect(words).toMatch(/\w+ing it (also )?brings out grain/i);
  }
});

it.each([
  [[], "ready"],
  [["note"], "note"],
  [["ask"], "ask"],
  [["note", "ask", "note"], "ask"],
] as const)("the grade of %j is %s", (grades, wanted) => {
  expect(gradeOf(grades.map((grade) => ({ grade })))).toBe(wanted);
});
