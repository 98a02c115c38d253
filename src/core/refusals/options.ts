import { didYouMean } from "../nearest-name.js";
import type { Figures, Texts } from "../told.js";
import { refusedAs } from "./entry.js";

export interface NotForSolid {
  readonly option: string;
  readonly lacks: "halftone" | "tones";
  /** A value of the same option that a solid piece takes. */
  readonly instead?: string;
}

/** Options that are wrong or contradict each other. */
export const optionRefusals = {
  ...refusedAs("OPTION_UNKNOWN", undefined, {
    "option-unknown": ({ option, known }: Texts<"option"> & { readonly known: readonly string[] }, reader) =>
      `Unknown option ${option}.${didYouMean(option, known.map(reader.option))}`,
  }),
  ...refusedAs("OPTION_INVALID", undefined, {
    "option-takes": ({ option, allowed, got }: Texts<"option" | "allowed" | "got">, reader) =>
      `${reader.option(option)} takes ${allowed}; got ${got}.`,
  }),
  ...refusedAs("OPTION_CONFLICT", undefined, {
    "option-of-other-work": ({ option, of, kind }: Texts<"option" | "of" | "kind">, reader) =>
      `${reader.option(option)} is for ${of} work, and this plan is for ${kind} work. Remove it, or set ${reader.setting("kind", of)}.`,
    "optics-incomplete": (_: Texts<"option">, reader) => {
      const names = ["wavelengthMm", "focalLengthMm", "beamDiameterMm"].map(reader.option);
      return `A spot is computed from ${names[0]}, ${names[1]} and ${names[2]}: all three are needed.`;
    },
    "option-not-for-solid": ({ option, lacks, instead }: NotForSolid, reader) => {
      const missing = lacks === "halftone" ? "no halftone" : "no tones between ink and paper";
      const other =
        instead === undefined ? "" : ` ${reader.setting(option, instead)} leaves its edges where they are.`;
      return `${reader.option(option)} is for photos: a solid piece has ${missing}. Remove it, or set ${reader.setting("kind", "photo")}.${other}`;
    },
    "option-needs-photo": ({ option }: Texts<"option">, reader) =>
      `${reader.option(option)} needs a photo, and none was given. Give the photo, or remove the option.`,
  }),
  ...refusedAs("OPTION_INVALID", "spread", {
    "spread-part-unknown": ({ part, known }: Texts<"part"> & { readonly known: readonly string[] }, reader) =>
      `${reader.option("spread")} has no part "${part}".${didYouMean(part, known)} Its parts are ${known.join(", ")}.`,
    "spread-part-empty": ({ part, example }: Texts<"part" | "example">, reader) =>
      `${reader.option("spread")} names the part ${part} without a value. Write ${part}=${example}.`,
    "spread-part-twice": ({ part }: Texts<"part">, reader) =>
      `${reader.option("spread")} gives the part ${part} twice. Give it once.`,
    "spread-part-outside": ({ part, limits, got }: Texts<"part" | "limits" | "got">, reader) =>
      `${reader.option("spread")} takes ${limits} for the part ${part}; got ${part}=${got}.`,
  }),
  ...refusedAs("OPTION_CONFLICT", "doseSpread", {
    "bare-given-twice": (_: object, reader) =>
      `${reader.option("bareLuminance")} and ${reader.option("paperLuminance")} both say how bright the bare surface is. Give one of them.`,
    "spread-given-twice": (_: object, reader) =>
      `${reader.option("doseSpread")} and the common part of ${reader.option("spread")} say the same thing twice. Give one of the two.`,
  }),
  ...refusedAs("OPTION_CONFLICT", "spotMm", {
    "spot-and-optics": (_: object, reader) =>
      `${reader.option("spotMm")} gives a measured spot, and the optics give a computed one. Give one of the two, not both.`,
  }),
  ...refusedAs("OPTION_CONFLICT", "powerPercent", {
    "power-without-density": ({ material }: Texts<"material">, reader) =>
      `A plan compares densities, and ${reader.option("powerPercent")} does not say at which one it gives full tone; ${material} names no reference density either. Write it as 40%@254: 40 % at 254 lines per inch.`,
    "power-without-any-density": ({ material, percent }: Texts<"material"> & Figures<"percent">, reader) => {
      const example = reader.fullTone({ percent, linesPerInch: 254 });
      return `${reader.option("powerPercent")} does not say at which density it gives full tone, ${material} names no reference density, and ${reader.option("linesPerInch")} is not given. Add the density at which you found it, for example ${example} if it was 254 lines per inch.`;
    },
  }),
  ...refusedAs("OPTION_CONFLICT", "defocusMm", {
    "defocus-needs-wavelength": (_: object, reader) =>
      `${reader.option("defocusMm")} widens the spot the more, the longer the wavelength. Give ${reader.option("wavelengthMm")} too, and ${reader.option("propagationRatio")} if you know it.`,
  }),
  ...refusedAs("OPTION_TOO_LARGE", "defocusMm", {
    "defocus-too-far": ({ spotMm, maxMm }: Figures<"spotMm" | "maxMm">, reader) =>
      `${reader.option("defocusMm")} widens the spot to ${Number(spotMm.toPrecision(3))} mm, and no more than ${maxMm} mm can be used. Go nearer to the focus.`,
  }),
  ...refusedAs("OPTION_TOO_LARGE", undefined, {
    "too-many-candidates": ({ count, max }: Figures<"count" | "max">) =>
      `These lists make ${count} candidates, and no more than ${max} are compared. Shorten one of the lists.`,
  }),
};
