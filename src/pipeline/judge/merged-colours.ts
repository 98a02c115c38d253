import type { FlatColour } from "../../1-photo/flat-colours.js";
import { BRIGHTEST_CODE } from "../../core/luminance-codes.js";
import { type Lab, labDistance, labFromSrgb } from "../../core/physics/lab.js";
import { lightnessFromLuminance, luminanceFromLightness } from "../../core/physics/lightness.js";
import { srgbFromLinear } from "../../core/physics/transfer.js";
import type { SettledJob } from "../job.js";
import type { PictureOnGrid } from "../photo/picture-rows.js";

/** Colours farther apart than this (CIE 1976 ΔE) differ at a glance: twenty just noticeable differences. */
const DIFFERENT = 20;
/** Tones on the piece nearer than this, in L*, are one: three just noticeable differences. */
const ONE_TONE = 3;

/** Smallest difference that shows in the luminance of a photo, in L*: 3 as the eye sees fine detail. */
const APART = 8;

/** Colours of a drawing that become one tone. */
export interface MergedColours {
  /** As `#rrggbb`, the most common first. */
  readonly colours: readonly string[];
  /** Share of the picture whose colour is lost: of all but the most common. */
  readonly share: number;
  /** Whether they are too near in lightness to be distinctions of the photo's luminance. */
  readonly equallyLight: boolean;
}

/** Groups of different colours of a drawing that cannot be told apart on the piece. */
export function mergedColours(
  { model, options }: SettledJob,
  { photo, tones }: PictureOnGrid,
): MergedColours[] {
  const solid = options.kind === "solid";
  const seen = (photo.colours ?? []).map((colour) => {
    const lab = labFromSrgb(colour.red, colour.green, colour.blue);
    const luminance = tones[codeOf(lab)];
    const shown = solid ? Math.round(luminance) : luminance;
    const tone = lightnessFromLuminance(model.wantedByCode[Math.round(shown * BRIGHTEST_CODE)]);
    return { colour, lab, tone };
  });
  const groups: (typeof seen)[] = [];
  for (const one of seen) {
    const like = groups.find(([first]) => Math.abs(first.tone - one.tone) < ONE_TONE);
    if (!like) groups.push([one]);
    else if (like.every(({ lab }) => labDistance(lab, one.lab) >= DIFFERENT)) like.push(one);
  }
  return groups
    .filter((group) => group.length > 1)
    .map((group) => ({
      colours: group.map(({ colour }) => hexOf(colour)),
      equallyLight: lightnessRange(group.map(({ lab }) => lab)) < APART,
      share: group.slice(1).reduce((sum, { colour }) => sum + colour.share, 0),
    }));
}

function lightnessRange(colours: readonly Lab[]): number {
  const all = colours.map(({ lightness }) => lightness);
  return Math.max(...all) - Math.min(...all);
}

/** The code of a colour's luminance. */
const codeOf = ({ lightness }: Lab): number =>
  Math.round(BRIGHTEST_CODE * srgbFromLinear(luminanceFromLightness(lightness)));

const hexOf = ({ red, green, blue }: FlatColour): string =>
  `#${[red, green, blue].map((code) => code.toString(16).padStart(2, "0")).join("")}`;
