import type { WarningCode } from "../report.js";

/** A warning in a few words, and what to do about it, beside the message with its figures. */
export interface WarningAdvice {
  readonly title: string;
  readonly whatToDo: string;
}

/** For every code there is, so that no warning stands on a page without a way out. */
export const warningAdvice: Readonly<Record<WarningCode, WarningAdvice>> = {
  "photo-damaged": {
    title: "The photo's file looks damaged",
    whatToDo: "Look at the preview for smears and shifted parts; if there are any, ask for the file again.",
  },
  "nothing-burns": {
    title: "Nothing burns",
    whatToDo: "Look whether it is the right photo, and take back --no-auto-tone, --brightness and --gamma.",
  },
  "mostly-burned": {
    title: "Most of the surface burns",
    whatToDo:
      "Cut the background out and save the photo as a PNG with transparency, unless it should be burned.",
  },
  "taken-for-artwork": {
    title: "Taken for a logo or lettering",
    whatToDo: "Say --kind solid if that is right, --kind photo if it is a picture with tones.",
  },
  "looks-like-artwork": {
    title: "Perhaps a logo or lettering",
    whatToDo: "Say --kind solid if it is, --kind photo if not.",
  },
  "negative-idle": {
    title: "Nothing to swap",
    whatToDo: "Leave --negative out, or fill the drawing's ground with white or black.",
  },
  "much-cut-off": {
    title: "Much of the photo is cut off",
    whatToDo:
      "Look at the preview; say with --focus what must stay, take --fit contain, or give only --width or --height.",
  },
  "thin-strokes": {
    title: "Strokes thinner than a mark",
    whatToDo: "Make the piece larger or draw them thicker, unless they may come out heavier than drawn.",
  },
  "closing-gaps": {
    title: "Gaps that close",
    whatToDo: "Make the piece larger, widen the gaps in the drawing, or fit a smaller spot.",
  },
  "grey-areas": {
    title: "Greys in a drawing",
    whatToDo: "Take --kind photo for a picture with tones, or give the drawing in two tones.",
  },
  "not-as-drawn": {
    title: "Not quite as drawn",
    whatToDo: "Look at the prediction below; take --kind photo for tones, a larger piece for fine parts.",
  },
  "spot-large": {
    title: "An unusually large spot",
    whatToDo: "Measure the mark of a single line under a magnifier and give it with --spot.",
  },
  "line-gaps": {
    title: "Gaps between the lines",
    whatToDo: "Raise --density until the gaps close, unless the stripes are wanted.",
  },
  "char-risk": {
    title: "May char",
    whatToDo: "Burn a small patch on scrap; lower the power, or take more lines with less power each.",
  },
  "photo-coarse-for-size": {
    title: "A coarse photo for this size",
    whatToDo: "Ask for the original file, or make the piece smaller.",
  },
  "photo-coarser-than-density": {
    title: "More lines than the photo can use",
    whatToDo: "Take a lower --density to save machine time; keep this one if its tones are worth it.",
  },
  "steep-at-overdrive": {
    title: "Tones hang on the dose",
    whatToDo:
      "Prepare again at the lower density, or with --method clustered-dot or green-noise; hold power and focus steady.",
  },
  "dose-sensitive": {
    title: "Sensitive to the dose",
    whatToDo: "Burn a piece of the photo on the same batch and adjust the power before the real one.",
  },
  "visible-grain": {
    title: "The dots will show",
    whatToDo: "Raise --density or try another --method, unless the grain is welcome.",
  },
  "firing-blurs": {
    title: "The firing lag blurs fine detail",
    whatToDo: "Prepare again with the lower --speed, and lower the power as much.",
  },
  "lines-shifted": {
    title: "Lines that do not lie under one another",
    whatToDo:
      "Set the machine's own correction for two-way work until the shift is gone, or burn one way with --one-way.",
  },
  "run-up-dominates": {
    title: "Slower would be quicker",
    whatToDo: "Prepare again with that --speed, and change the power with it.",
  },
  "method-drops-tone": {
    title: "A halftone that loses tones",
    whatToDo: "Leave --method to auto, unless this look is wanted.",
  },
  "levels-no-gain": {
    title: "Power levels gain nothing here",
    whatToDo: "Leave --levels out, or give --dose-spread as you measured it.",
  },
  "levels-band": {
    title: "Power levels may show as bands",
    whatToDo: "Take --method floyd-steinberg with the levels.",
  },
  "seam-shows": {
    title: "The seam will show",
    whatToDo: "Turn the seam to the back, or take a picture whose sides meet.",
  },
  "cone-slope": {
    title: "A sloping surface",
    whatToDo: "Tilt the axis until the line under the beam lies level, and set the focus half-way down.",
  },
  "cone-dose": {
    title: "The dose changes along the cone",
    whatToDo: "Engrave less height at a time and set the power anew for each part.",
  },
  uncompensated: {
    title: "Tones not compensated",
    whatToDo: "Prepare again without --no-compensate.",
  },
  "material-illustrative": {
    title: "A material that nobody measured",
    whatToDo: "Burn a row of tones on scrap, hold it beside the prediction, and write down a material file.",
  },
  "material-not-measured-here": {
    title: "A material not marked as measured",
    whatToDo: "Burn a row of tones on scrap and hold it beside the prediction.",
  },
  "material-doubtful": {
    title: "A doubtful figure in the material file",
    whatToDo: "Look that figure up and correct it; then prepare again.",
  },
};
