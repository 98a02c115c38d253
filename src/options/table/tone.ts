import { group } from "../group.js";
import { number, percent, toggle, word } from "../kinds.js";
import { between, oneOf } from "../takes.js";

/** Adjustments from the photo's tones to the engraved tones. */
export const toneOptions = group("Tone", {
  toneMap: word(
    "--tone-map <how>",
    oneOf(["lightness", "luminance"]).default("lightness"),
    "lightness: even steps to the eye; luminance: the photo's light ratios",
    { compared: { place: 5 }, needs: "tones" },
  ),
  compensate: toggle("--no-compensate", true, "do not correct tone for spot and material"),
  autoTone: toggle("--no-auto-tone", true, "leave the photo's tones as they are, without automatic levels"),
  clipPercent: percent(
    "--clip <percent>",
    between(0, 10, "%").default(0.1),
    "largest share of the pixels that automatic levels may clip at each end",
    { needs: "automatic-levels" },
  ),
  brightness: number("--brightness <amount>", between(-100, 100).default(0), "added to L*, -100 to 100", {
    tonal: true,
  }),
  contrast: number("--contrast <amount>", between(-100, 100).default(0), "-100 halves, 100 doubles", {
    tonal: true,
  }),
  gamma: number("--gamma <value>", between(0.1, 10).default(1), "above 1 lightens mid-tones", {
    tonal: true,
  }),
  /** Default: as much as the photo seems to need, and nothing without automatic levels. */
  lift: number(
    "--lift <strength>",
    between(0, 1).optional(),
    "lift dark parts in front of light ones, 0 (off) to 1; by default as much as a backlit photo needs",
    { tonal: true },
  ),
  localContrast: number(
    "--local-contrast <amount>",
    between(0, 2).default(0),
    "contrast with the surroundings, 0 to 2",
    { tonal: true },
  ),
  sharpen: number(
    "--sharpen <amount>",
    between(0, 2).default(0),
    "share of the spot's blur to make up for, 0 to 2",
    { tonal: true },
  ),
  /** Swap light and dark: what would stay bare burns. */
  negative: toggle(
    "--negative",
    false,
    "swap light and dark: for a dark drawing on white that is to burn on slate",
  ),
});
