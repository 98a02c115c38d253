import type { ErrorCode } from "../core/errors.js";
import { customerWords, DECIMAL_POINT, findingTexts, type Texts } from "../pipeline/triage/customer-texts.js";
import type { UploadEntry } from "./entry.js";

/**
 * What a customer can do about a refusal. There are no words for what is not the customer's: a crash, limits of time and memory, links
 * and missing files in the workshop's own folder, options of the job.
 */
const refusalTexts = {
  INPUT_EMPTY: "Your file arrived empty. Please send it once more.",
  INPUT_DAMAGED:
    "We could not open your picture: it may not have arrived complete. Please send it once more, or a copy saved as PNG.",
  INPUT_NOT_AN_IMAGE:
    "We could not read your file as a picture. Please send it as JPEG or PNG; on a phone, sharing the photo usually offers that.",
  INPUT_TOO_LARGE: "Your picture is larger than our program takes. Could you send a smaller version of it?",
  INPUT_UNSAFE_DRAWING:
    "Your drawing refers to other files or holds programs, and we can only open one that has everything inside. Could you save it as a plain SVG, or as PNG?",
} satisfies Partial<Record<ErrorCode, string>>;

/** All words to customers in English, in the order in which the words file has them. */
export const englishWords = { [DECIMAL_POINT]: ".", ...findingTexts, ...refusalTexts };

/** Words to customers: the English ones, or those of a shop. */
export type CustomerTexts = Readonly<Record<keyof typeof englishWords, string>>;

/** What to write to the customer of an upload: the reason that counts most, then the others. Empty if there is nothing. */
export function customerReasons(
  { state, code, findings }: Pick<UploadEntry, "state" | "code" | "findings">,
  texts: Texts = englishWords,
): string[] {
  if (state === "prepared") return findings.map((finding) => customerWords(finding, texts));
  const text = state === "refused" && Object.hasOwn(refusalTexts, code) ? texts[code] : undefined;
  return text === undefined ? [] : [text];
}

/** An entry with the words for its customer. */
export function worded(entry: UploadEntry, texts?: Texts): UploadEntry {
  const { customerNote: _, customerMore: __, ...rest } = entry;
  const [lead, ...more] = customerReasons(entry, texts);
  const findings = entry.findings.map((finding) => ({ ...finding, customer: customerWords(finding, texts) }));
  return {
    ...rest,
    findings,
    ...(lead !== undefined && { customerNote: lead }),
    ...(more.length > 0 && { customerMore: more }),
  };
}
