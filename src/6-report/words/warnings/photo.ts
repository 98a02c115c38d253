import type { WarningCode } from "../../report.js";
import { type Blur, photoWords } from "../photo-words.js";
import { LARGER_PHOTO } from "../shared-matters.js";
import { type Judged, warning } from "./rule.js";

interface Graded {
  readonly grade: "note" | "ask";
}

/** What triage found under a code. Of an even picture, nothing but that it is even. */
function found<Data extends object>(code: string) {
  return ({ facts, fidelity }: Judged): Data[] => {
    if (fidelity?.distinctShare === 0) return [];
    return facts.findings.flatMap((finding) => (finding.code === code ? [finding.data as Data] : []));
  };
}

const badly = ({ grade }: Graded): boolean => grade === "ask";
const CHECK = "Check the preview.";
const ORIGINAL = "Take the original file, straight from the camera or phone.";

/** What triage finds about the photo, as the workshop reads it. */
export const photoWarnings = {
  "photo-dithered": warning({
    title: "Already made of dots",
    when: found<object>("ALREADY_DITHERED"),
    happens: () => photoWords.dithered,
    whatToDo: () => "Take the photograph from which it was made.",
  }),
  "photo-blurred": warning({
    title: "A blurred picture",
    when: found<Graded & Blur>("BLURRED"),
    happens: (data) => photoWords.blurred(data, badly(data)),
    whatToDo: () => `Take a sharper picture, or the original before it was enlarged or sent. ${LARGER_PHOTO}`,
  }),
  "photo-grainy": warning({
    title: "A grainy picture",
    when: found<{ readonly drowned: boolean }>("GRAINY"),
    happens: ({ drowned }) => photoWords.grainy(drowned),
    whatToDo: () => `${CHECK} A picture that was taken in more light would look cleaner.`,
  }),
  "photo-low-contrast": warning({
    title: "Little contrast",
    when: found<Graded>("LOW_CONTRAST"),
    happens: (data) => photoWords.lowContrast(badly(data)),
    whatToDo: () => `${CHECK} A picture in better light would look cleaner.`,
  }),
  "photo-blocks": warning({
    title: "Strongly compressed",
    when: found<Graded>("BLOCKS"),
    happens: (data) => photoWords.blocks(badly(data)),
    whatToDo: () => ORIGINAL,
  }),
  "photo-stretched": warning({
    title: "A stretched picture",
    when: found<Graded>("STRETCHED"),
    happens: (data) => photoWords.stretched(badly(data)),
    whatToDo: (_, reader) =>
      `${reader.setting("fit", "cover")} cuts it to shape instead, and ${reader.setting("fit", "contain")} leaves bare surface beside it.`,
  }),
  "photo-clipped-shadows": warning({
    title: "Pure black",
    when: found<{ readonly share: number }>("CLIPPED_SHADOWS"),
    happens: ({ share }) => photoWords.black(share),
    whatToDo: () => "If that is not a plain background, a brighter exposure would show more.",
  }),
  "photo-clipped-highlights": warning({
    title: "Pure white",
    when: found<{ readonly share: number }>("CLIPPED_HIGHLIGHTS"),
    happens: ({ share }) => photoWords.white(share),
    whatToDo: () => "If that is not a plain background, a darker exposure would show more.",
  }),
  "photo-screenshot": warning({
    title: "Perhaps a screenshot",
    when: found<object>("SCREENSHOT"),
    happens: () => photoWords.screenshot,
    whatToDo: () =>
      "If it shows a photo, take the photo itself, which holds more detail. Check that no bars or buttons are in the picture.",
  }),
  "photo-text": warning({
    title: "Text that is not outlined",
    when: found<object>("TEXT_NOT_OUTLINED"),
    happens: () => photoWords.text,
    whatToDo: () => `Convert all text to outlines (also called paths or curves). ${CHECK}`,
  }),
  "photo-pages": warning({
    title: "More than one picture in the file",
    when: found<{ readonly pages: number }>("MANY_PAGES"),
    happens: ({ pages }) => photoWords.pages(pages),
    whatToDo: () => "If you want another, save it as a file of its own.",
  }),
};

/** Warnings that a batch tells as findings, in the same words. */
export const toldAsFindings: readonly WarningCode[] = Object.keys(
  photoWarnings,
) as (keyof typeof photoWarnings)[];
