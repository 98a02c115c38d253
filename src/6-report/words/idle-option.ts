import type { Reader } from "../../core/reader.js";
import type { Matter } from "./matter.js";

/** An option that was given and has no effect, and what it needs. */
export interface IdleFacts {
  readonly option: string;
  readonly need: keyof typeof needs;
  /** The halftone; "none" if there is none. Absent if there are several. */
  readonly method?: string;
}

interface NeedWords {
  /** Why it has no effect; a clause. */
  readonly why: (method: string | undefined) => string;
  /** What would give it an effect; a clause. */
  readonly remedy?: (reader: Reader) => string;
}

function has(method: string | undefined): string {
  if (method === undefined) return "there is none here";
  return method === "none" ? "this piece has no halftone" : `the halftone here is ${method}`;
}

/** Every need of an option, in words. */
const needs = {
  scan: { why: (method) => `it is for error diffusion, and ${has(method)}` },
  seed: { why: (method) => `it is for halftones that use chance, and ${has(method)}` },
  clumping: {
    why: (method) => `it is for green noise, and ${has(method)}`,
    remedy: ({ setting }) => `set ${setting("method", "green-noise")}`,
  },
  screen: {
    why: (method) => `it is for a clustered-dot screen, and ${has(method)}`,
    remedy: ({ setting }) => `set ${setting("method", "clustered-dot")}`,
  },
  search: {
    why: (method) => `it is for a search, and ${has(method)}`,
    remedy: ({ setting }) => `set ${setting("method", "burn-search")}`,
  },
  cone: {
    why: () => "it is for a cone, and this piece is none",
    remedy: ({ option }) => `give both diameters of the cone with ${option("aroundMm")}`,
  },
  "both-sizes": {
    why: () => "one size alone keeps the shape of the photo",
    remedy: ({ option }) => `give the other size too: ${option("heightMm")} or ${option("widthMm")}`,
  },
  "cut-to-fit": {
    why: () => "nothing is cut off to fill the piece",
    remedy: ({ option, setting }) =>
      `give both ${option("widthMm")} and ${option("heightMm")}, and set ${setting("fit", "cover")}`,
  },
  tones: {
    why: () => "it is for photos, and a solid piece has no tones",
    remedy: ({ setting }) => `set ${setting("kind", "photo")}`,
  },
  "automatic-levels": {
    why: () => "it is for automatic levels, and this piece has none",
    remedy: ({ setting }) => `set ${setting("autoTone", true)} and ${setting("kind", "photo")}`,
  },
  "two-way": {
    why: () => "all lines are burned in the same direction",
    remedy: ({ setting }) => `set ${setting("oneWay", false)}`,
  },
  optics: {
    why: () => "the spot is not computed from the optics",
    remedy: ({ option }) =>
      `give ${option("wavelengthMm")}, ${option("focalLengthMm")} and ${option("beamDiameterMm")}`,
  },
  defocus: {
    why: () => "the work lies in the focus",
    remedy: ({ option }) => `say with ${option("defocusMm")} how far the work lies from the focus`,
  },
  "no-tones-asked": {
    why: () => "a number of tones is asked for, and that decides",
    remedy: ({ option }) => `remove ${option("tones")}`,
  },
} satisfies Readonly<Record<string, NeedWords>>;

export const idleOption: Matter<IdleFacts> = {
  title: "An option without effect",
  happens: ({ option, need, method }, reader) =>
    `${reader.option(option)} changes nothing here: ${needs[need].why(method)}.`,
  whatToDo({ need }, reader) {
    const { remedy }: NeedWords = needs[need];
    return remedy === undefined ? "Remove it." : `Remove it, or ${remedy(reader)}.`;
  },
};
