import { group } from "../option.js";
import { between, oneOf, trueOrFalse } from "../takes.js";
import * as text from "../text-forms.js";

/** From the photo's tones to those that are engraved. */
export const toneOptions = group("Tone", {
  toneMap: {
    flag: "--tone-map <how>",
    text: text.plainText,
    takes: oneOf(["lightness", "luminance"]).default("lightness"),
    help: "lightness: even steps to the eye; luminance: the photo's light ratios",
    compared: { place: 5, words: "one or both of lightness, luminance" },
  },
  compensate: {
    flag: "--no-compensate",
    text: text.yesOrNo,
    takes: trueOrFalse.default(true),
    help: "do not correct tone for spot and material",
  },
  autoTone: {
    flag: "--no-auto-tone",
    text: text.yesOrNo,
    takes: trueOrFalse.default(true),
    help: "leave the photo's tones as they are, without automatic levels",
  },
  clipPercent: {
    flag: "--clip <percent>",
    text: text.percent,
    takes: between(0, 10, "%").default(0.1),
    help: "largest share of the pixels that automatic levels may clip at each end",
  },
  brightness: {
    flag: "--brightness <amount>",
    text: text.number,
    takes: between(-100, 100).default(0),
    help: "added to L*, -100 to 100",
  },
  contrast: {
    flag: "--contrast <amount>",
    text: text.number,
    takes: between(-100, 100).default(0),
    help: "-100 halves, 100 doubles",
  },
  gamma: {
    flag: "--gamma <value>",
    text: text.number,
    takes: between(0.1, 10).default(1),
    help: "above 1 lightens mid-tones",
  },
  localContrast: {
    flag: "--local-contrast <amount>",
    text: text.number,
    takes: between(0, 2).default(0),
    help: "contrast with the surroundings, 0 to 2",
  },
  sharpen: {
    flag: "--sharpen <amount>",
    text: text.number,
    takes: between(0, 2).default(0),
    help: "share of the spot's blur to make up for, 0 to 2",
  },
  /** Swap light and dark, so that what would stay bare burns. */
  negative: {
    flag: "--negative",
    text: text.yesOrNo,
    takes: trueOrFalse.default(false),
    help: "swap light and dark: for a dark drawing on white that is to burn on slate",
  },
});
