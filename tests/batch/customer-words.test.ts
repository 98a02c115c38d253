import { describe, expect, it } from "vitest";
import { customerReasons, englishWords, worded } from "../../src/batch/customer-note.js";
import { preparedEntry, refusedEntry } from "../../src/batch/entry.js";
import { checkWords, englishWordsJson } from "../../src/batch/words-file.js";
import type { ErrorCode } from "../../src/core/errors.js";
import type { FindingCode } from "../../src/pipeline/triage/findings.js";
import { finding, inOrder } from "../../src/pipeline/triage/words.js";
import { figures } from "./desk/made-desk.js";

const texts = Object.entries(englishWords).filter(([key]) => key !== "DECIMAL_POINT");
const fewPixels = finding("TOO_FEW_PIXELS", {
  ...{ grade: "ask", widthPx: 400, heightPx: 300, widthMm: 80.5 },
  ...{ pxPerMm: 5, neededPxPerMm: 10, largestWidthMm: 40.2 },
});

describe("words to customers", () => {
  it.each(texts)("%s: one or two sentences, with nothing that only a workshop can do", (_key, text) => {
    expect(text.match(/[.?](?= |$)/g)?.length).toBeLessThanOrEqual(2);
    expect(text).toMatch(/^[^ ].*[.?]$/);
    expect(text).not.toMatch(/density|lines per|spot|power|material|halftone|option|--|megapixel|MB|second/i);
    expect(text).not.toMatch(/\bmust\b|you (should|failed|did not)|your fault/i);
  });

  it("are the most important reason alone; the others follow", () => {
    const findings = inOrder([finding("TRANSPARENT", { grade: "note", share: 0.3 }), fewPixels]);
    const entry = worded(preparedEntry("boat.jpg", { findings, figures }, []));
    expect(entry.customerNote).toBe(
      "Your picture has 400 × 300 pixels, and a piece 80.5 mm wide would look coarse. Do you have the original from the camera or phone, or shall we engrave it up to 40 mm wide?",
    );
    expect(entry.customerMore).toEqual([
      "Parts of your picture are transparent, and will be paler or stay bare on the piece.",
    ]);
    // The workshop's own words know what the workshop can do.
    expect(entry.message).toMatch(/5\.0 for each millimetre.*10\.0.*lower density/);
    const ready = worded(preparedEntry("boat.jpg", { findings: [], figures }, []));
    expect("customerNote" in ready || "customerMore" in ready).toBe(false);
  });

  it("are none for a crash, for limits of time, and for what is not the customer's", () => {
    const said = (code: ErrorCode) => customerReasons(refusedEntry("boat.jpg", code, "A reason."));
    const ours: ErrorCode[] = ["INPUT_TOO_DEMANDING", "INPUT_LINK", "INPUT_NOT_A_FILE", "INPUT_CHANGING"];
    for (const code of [...ours, "INPUT_MISSING", "OPTION_INVALID", "INTERNAL"] as ErrorCode[])
      expect(said(code)).toEqual([]);
    expect(said("INPUT_DAMAGED")).toHaveLength(1);
  });
});

describe("findings together", () => {
  const note = (code: FindingCode, grade: "note" | "ask" = "note", share = 0.1) =>
    ({ code, grade, message: "", customer: "", data: { share } }) as const;
  const told = (...findings: readonly ReturnType<typeof note>[]) =>
    inOrder(findings).map(({ code, grade }) => `${code} ${grade}`);

  it("do not ask a logo for better light", () => {
    for (const code of ["TOO_DARK", "TOO_PALE", "LOW_CONTRAST"] as const)
      expect(told(note("ARTWORK"), note(code))).toEqual(["ARTWORK note"]);
    // A question stays a question: the guess that it is a logo may be wrong.
    expect(told(note("ARTWORK"), note("TOO_DARK", "ask"))).toEqual(["TOO_DARK ask"]);
  });

  it("do not ask for a brighter and a darker picture", () => {
    // A picture may have too much of both.
    for (const key of ["CLIPPED_HIGHLIGHTS", "CLIPPED_SHADOWS"] as const)
      expect(englishWords[key]).not.toMatch(/brighter|darker|exposure|light/);
  });

  it("judge nothing of a picture that is damaged or will be replaced, and keep the question", () => {
    expect(told(note("DAMAGED", "ask"), note("BLURRED", "ask"), note("CROPPED"))).toEqual([
      ...["DAMAGED ask", "CROPPED note"],
    ]);
    expect(told(note("ALREADY_DITHERED", "ask"), note("TOO_FEW_PIXELS"))).toEqual(["ALREADY_DITHERED ask"]);
  });
});

describe("words of a shop", () => {
  const english = (): Record<string, unknown> => JSON.parse(englishWordsJson());
  const faultsOf = (changes: Record<string, unknown>, without?: string) => {
    const checked = checkWords(
      Object.fromEntries(Object.entries({ ...english(), ...changes }).filter(([key]) => key !== without)),
    );
    return "faults" in checked ? checked.faults : [];
  };

  it("are complete as the English file is", () => {
    expect(faultsOf({})).toEqual([]);
    expect(checkWords(english())).toEqual({ words: englishWords });
  });

  it.each<[string, Record<string, unknown>, string | undefined, RegExp]>([
    ["a missing key", {}, "TOO_DARK.ask", /^"TOO_DARK.ask" is missing$/],
    [
      "a misspelt key",
      { "TO_DARK.ask": "x" },
      "TOO_DARK.ask",
      /^there is no key "TO_DARK.ask"\n"TOO_DARK.ask" is missing$/,
    ],
    ["a missing figure", { "CROPPED.note": "Abgeschnitten." }, undefined, /"CROPPED.note" lacks \{share\}/],
    [
      "a misspelt figure",
      { "BLURRED.ask": "Unscharf: {blurr}." },
      undefined,
      /"BLURRED.ask" has \{blurr\}, allowed there: \{blur\}/,
    ],
    ["a figure where there is none", { DAMAGED: "{share}?" }, undefined, /"DAMAGED" has \{share\}, none/],
    ["no text", { DAMAGED: 3 }, undefined, /^"DAMAGED" must be a text$/],
    ["an empty text", { DAMAGED: " " }, undefined, /^"DAMAGED" must be a text$/],
    ["another point", { DECIMAL_POINT: ";" }, undefined, /^"DECIMAL_POINT" must be "\." or ","$/],
  ])("are refused for %s, which is named", (_what, changes, without, fault) => {
    expect(faultsOf(changes, without).join("\n")).toMatch(fault);
  });

  it.each([[[]], [null], ["text"], [3]])("are refused if the file holds %j", (value) => {
    expect(checkWords(value)).toHaveProperty("faults");
  });

  it("say the same with its figures, its own point, and the workshop's words unchanged", () => {
    const words = {
      ...englishWords,
      ...{ DECIMAL_POINT: "," },
      "TOO_FEW_PIXELS.ask": "{pixelsWide} mal {pixelsHigh} Punkte auf {width}; bis {largestWidth} reicht es.",
    };
    const entry = worded(preparedEntry("boat.jpg", { findings: [fewPixels], figures }, []), words);
    expect(entry.customerNote).toBe("400 mal 300 Punkte auf 80,5 mm; bis 40 mm reicht es.");
    expect(entry.findings[0].customer).toBe(entry.customerNote);
    expect(entry.message).toBe(fewPixels.message);
  });
});
