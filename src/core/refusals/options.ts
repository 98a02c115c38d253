import type { RefusalTable } from "./entry.js";

/** Options that are wrong in themselves or do not go together. */
export const optionRefusals = {
  "option-unknown": {
    code: "OPTION_UNKNOWN",
    words: ({ option }: { readonly option: string }, reader) =>
      `There is no option ${reader.option(option)}.`,
  },
  "option-takes": {
    code: "OPTION_INVALID",
    words: (
      {
        option,
        allowed,
        got,
      }: {
        readonly option: string;
        readonly allowed: string;
        /** As the caller wrote it. */
        readonly got: string;
      },
      reader,
    ) => `${reader.option(option)} takes ${allowed}; got ${got}.`,
  },
  "option-of-other-work": {
    code: "OPTION_CONFLICT",
    words: (
      { option, of, kind }: { readonly option: string; readonly of: string; readonly kind: string },
      reader,
    ) =>
      `${reader.option(option)} is for ${of} work, and this plan is for ${kind} work. Remove it, or set ${reader.setting("kind", of)}.`,
  },
  "spot-and-optics": {
    code: "OPTION_CONFLICT",
    option: "spotMm",
    words: (_: object, reader) =>
      `${reader.option("spotMm")} gives a measured spot, and the optics give a computed one. Give one of the two, not both.`,
  },
  "optics-incomplete": {
    code: "OPTION_CONFLICT",
    words: (_: { readonly option: string }, reader) => {
      const names = ["wavelengthMm", "focalLengthMm", "beamDiameterMm"].map(reader.option);
      return `A spot is computed from ${names[0]}, ${names[1]} and ${names[2]}: all three are needed.`;
    },
  },
  "option-not-for-solid": {
    code: "OPTION_CONFLICT",
    words: (
      {
        option,
        lacks,
        instead,
      }: {
        readonly option: string;
        readonly lacks: "halftone" | "tones";
        /** A value of the same option that a solid piece does take. */
        readonly instead?: string;
      },
      reader,
    ) => {
      const missing = lacks === "halftone" ? "no halftone" : "no tones between ink and paper";
      const other =
        instead === undefined ? "" : ` ${reader.setting(option, instead)} leaves its edges where they are.`;
      return `${reader.option(option)} is for photos: a solid piece has ${missing}. Remove it, or set ${reader.setting("kind", "photo")}.${other}`;
    },
  },
  "option-needs-photo": {
    code: "OPTION_CONFLICT",
    words: ({ option }: { readonly option: string }, reader) =>
      `${reader.option(option)} needs a photo, and none was given. Give the photo, or remove the option.`,
  },
  "too-many-candidates": {
    code: "OPTION_TOO_LARGE",
    words: ({ count, max }: { readonly count: number; readonly max: number }) =>
      `These lists make ${count} candidates, and no more than ${max} are compared. Shorten one of the lists.`,
  },
} satisfies RefusalTable;
