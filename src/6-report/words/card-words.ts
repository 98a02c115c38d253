import { BEST_LINES_PER_SPOT, type CardDensityReason, hasLinesEnough } from "../../core/card-density.js";
import type { CardPattern } from "../../core/card-pattern.js";
import type { Reader } from "../../core/reader.js";
import { sizeWords, speedWords } from "../../core/shown-units.js";
import { densityWords, durationWords, mmWords } from "../../core/words.js";
import type { CardContents, CardGroupName, CardJob, TestCard } from "../card.js";

/** A card before it is words. */
export type CardFigures = Pick<TestCard, "job" | "contents" | "runTime">;

/** Bare material round the card, for clamps and for the picture. */
const ROUND_MM = 10;

/** The group of a pattern; undefined for a reference. */
export function cardGroupOf(pattern: CardPattern): CardGroupName | undefined {
  switch (pattern.kind) {
    case "bare":
    case "solid":
      return undefined;
    case "lines":
      return pattern.on === 1 ? "ladder" : "bundles";
    case "dashes":
      return dashGroup(pattern);
    case "fill":
      return "fills";
    default:
      return pattern.kind;
  }
}

function dashGroup({ on, off, step, linePeriod }: Extract<CardPattern, { kind: "dashes" }>): CardGroupName {
  if (linePeriod > 2) return "lone-lines";
  if (linePeriod === 2) return "one-way-bursts";
  return on === off && step === 0 ? "bursts" : "dashes";
}

/** The title of a group, and what it tells. */
export const cardGroupWords: Readonly<Record<CardGroupName, readonly [title: string, tells: string]>> = {
  ladder: [
    "Ladder of lines",
    "One line of 2, 3, 5 and so on. The spacing at which bare gaps appear tells the spot across the lines and the width of a mark.",
  ],
  bundles: [
    "Bundles of lines",
    "Several lines side by side. The same share in fine and in coarse bundles tells the spot across the lines.",
  ],
  bursts: [
    "Bursts",
    "Dashes as long as their gaps. All have the same share, so a difference in tone tells how slowly the source starts and stops, and the spot along the lines.",
  ],
  "one-way-bursts": [
    "Bursts on every other line",
    "The same on even lines alone. A machine that burns both ways burns all of them in one direction.",
  ],
  dashes: [
    "Dashes in step and displaced",
    "Beside the patches of whole lines with the same share, they tell whether the doses of neighbouring lines add up.",
  ],
  "lone-lines": [
    "Lone lines",
    "Lines with three bare ones or more between them, with a fifth to two thirds of their pixels. The width of their marks tells the spot once more.",
  ],
  dots: ["Dots", "Lone dots, as in the light tones of a halftone."],
  holes: ["Holes", "Bare dots, as in its dark tones."],
  checks: ["Checks", "Half of all, from fine to coarse: the spot along and across the lines at once."],
  vernier: [
    "Vernier",
    "Odd lines carry the same dashes as even ones, displaced by some pixels; the burst of the same length is the one that is not displaced. The tone is extreme where that cancels the shift of your machine between its two directions.",
  ],
  fills: ["Fills at part power", "Every pixel at one power level: how tone follows power."],
};

/** A pattern in a few words. */
export function patternWords(pattern: CardPattern): string {
  switch (pattern.kind) {
    case "bare":
    case "solid":
      return pattern.kind;
    case "lines":
      return `${pattern.on} of ${pattern.period} lines`;
    case "dashes":
      return dashWords(pattern);
    case "dots":
    case "holes":
      return `${pattern.side} × ${pattern.side} in ${pattern.period} × ${pattern.period}`;
    case "checks":
      return `squares of ${pattern.side}`;
    case "vernier":
      return `${pattern.on} on, ${pattern.off} off, odd lines by ${pattern.shift}`.replace("-", "−");
    case "fill":
      return `level ${pattern.level}`;
  }
}

function dashWords({ on, off, step, linePeriod }: Extract<CardPattern, { kind: "dashes" }>): string {
  const displaced = step === 0 ? "" : `, displaced by ${step}`;
  const every = linePeriod > 2 ? `, every ${linePeriod}th line` : "";
  return `${on} on, ${off} off${displaced}${every}`;
}

/** Lines to a spot, to a tenth. */
const toSpotWords = ({ linesPerSpot, spotAcrossMm }: CardJob): string =>
  `${Number(linesPerSpot.toFixed(1))} lines to a spot of ${mmWords(spotAcrossMm)}`;

const REASONS: Readonly<Record<CardDensityReason, string>> = {
  given: "as you gave it",
  computed: "computed from the spot",
  "smallest-offered": "the smallest that your machine offers with about four lines to the spot",
  "largest-offered": "the largest that your machine offers; four lines to the spot would be best",
};

/** The density and why, in one line. */
export const cardDensityInShort = (job: CardJob): string =>
  `${densityWords(job.linesPerInch)} lines per inch, ${toSpotWords(job)}: ${REASONS[job.densityReason]}`;

/** Why the card has its density. */
export function cardDensityWords(job: CardJob): string {
  const { linesPerInch, linesPerSpot, densityReason } = job;
  const isOffered = densityReason === "smallest-offered" || densityReason === "largest-offered";
  const from = isOffered ? `, ${REASONS[densityReason]}` : "";
  const lines = `${densityWords(linesPerInch)} lines per inch are ${toSpotWords(job)}${from}`;
  if (hasLinesEnough(linesPerSpot)) {
    return `${lines}. Lines this close merge: every other line is an even half dose. So a card of on and off shows the doses between bare and solid, too.`;
  }
  const finer =
    densityReason === "largest-offered"
      ? ""
      : ` If your machine has a higher density, take it, up to ${densityWords((linesPerInch * BEST_LINES_PER_SPOT) / linesPerSpot)}.`;
  return `${lines}. With four to a spot every other line would be an even half dose; with fewer, the doses between bare and solid are less sure.${finer}`;
}

/** How to engrave it, in order. */
export function cardSteps({ job, runTime }: CardFigures, reader: Reader): string[] {
  const { units } = reader;
  const density = densityWords(job.linesPerInch);
  const room = sizeWords(
    { widthMm: job.widthMm + 2 * ROUND_MM, heightMm: job.heightMm + 2 * ROUND_MM },
    units,
  );
  const speed = job.isSpeedGiven ? speedWords(job.speedMmPerS, units) : "the speed of your jobs";
  const tone = job.marksGrow === "darker" ? "dark" : "light";
  const levels =
    job.levels === 2
      ? "It has black and white pixels only: switch"
      : `It has ${job.levels} greys, and each is a power level. Let the grey set the power of each pixel, and switch`;
  return [
    `Take a flat piece of ${job.material} of ${room} or more, of the batch that you will engrave. Prepare it as you do for real work.`,
    `Load the bitmap with its own size, ${sizeWords(job, units)}, and set ${density} lines per inch and ${speed}. ${levels} off every correction, smoothing and dithering of your machine's software.`,
    job.doseFactor !== undefined
      ? `Burn this card with ${job.doseFactor} times the dose of your first card. At the same speed and density that is ${job.doseFactor} times its power; where power alone does not do, take more passes or less speed. Write down what you set.`
      : `Set the power for full tone at this density and speed: the solid patches should come out as ${tone} as your material gets, without damage. To find it: ${reader.powerTest(job.linesPerInch)}. Write down the power.`,
    job.oneWay
      ? "Burn all lines in the same direction, as in your jobs."
      : `Burn in both directions, as in your jobs. If your jobs burn all lines in the same direction, make the card again with ${reader.setting("oneWay", true)}.`,
    `Set the focus as for real work. Burn the card in one go: it takes about ${durationWords(runTime.seconds)}. Stay with the machine.`,
    "Let the card cool, and clean it as you clean a finished piece.",
  ];
}

/** How to take its picture, in order. */
export const photographSteps: readonly string[] = [
  "A flatbed scanner is best, at 600 pixels per inch or more, with all corrections of colour and contrast off. Otherwise take a phone or a camera.",
  "Use daylight from a window or a cloudy sky that falls on the card evenly. No flash, no lamp that is mirrored in the card, no edge of a shadow across it.",
  "Hold the camera straight above the middle of the card, so near that the card nearly fills the picture. All four corners must be in it, with a little bare material round them.",
  "Take the picture with the plain camera: no filter, no portrait or night mode. Tap on the card so that it is sharp.",
  "Take two or three in the same light, each a stop darker than the one before: together they tell how your camera writes light.",
  "Keep the pictures as the camera wrote them. A messenger makes them small, and takes out how they were exposed.",
];

/** The same for a test card, which is to tell how bright the bare surface is. */
export const cardPhotographSteps = (reader: Reader): string[] => [
  photographSteps[0],
  `A picture shows ratios of light. Lay plain white paper beside the card, and give ${reader.option("paperLuminance")} 0.85; or measure the luminance factor of the bare surface, and give ${reader.option("bareLuminance")}.`,
  ...photographSteps.slice(1),
];

/** What the card shows and what it does not. */
export function cardNotes({ job, contents }: CardFigures, reader: Reader): string[] {
  return [
    cardDensityWords(job),
    ...(job.isSpotGiven
      ? []
      : [
          `Nobody gave a spot, so ${mmWords(job.spotAcrossMm)} is assumed. A rough guess is enough, because the card is there to measure it: ${reader.option("spotMm")} sets another one.`,
        ]),
    ...countNotes(contents, reader),
    job.doseFactor === undefined
      ? `The solid patches have dose 1, and the card tells nothing about stronger settings. For those, make a second card with ${reader.setting("doseFactor", 1.5)}, burn it with so much more dose, and read both together.`
      : `The solid patches have dose ${job.doseFactor}: so many times that of your first card. Read the pictures of both cards together.`,
    directionNote(job),
    ...pixelTimeNote(job, reader),
    "The frame and the four corners, of which two differ, tell where the card lies, how it is turned and whether it is seen from behind. One spoilt corner does no harm.",
    `The code in the middle says how the card was made. It holds ${contents.code}, from which all of card.json follows.`,
  ];
}

function countNotes({ leftOut, patterns, repeats }: CardContents, reader: Reader): string[] {
  const more = `Make more cards with ${reader.setting("seed", 2)}, 3 and 4: there the patches lie elsewhere, and four cards read together tell how much your machine varies from piece to piece.`;
  if (leftOut === 0) return [more];
  return [
    `This card is small: it has ${patterns} of ${patterns + leftOut} patterns, each at least ${repeats} times. What is learned from it is less sure than from a card of 80 × 60 mm.`,
    more,
  ];
}

const directionNote = ({ oneWay }: CardJob): string =>
  oneWay
    ? "Burned in one direction, the card cannot tell how far lines of the other direction are shifted."
    : "A bitmap cannot ask for one direction. But some patterns burn even lines alone, and every line of the card has something to burn, so a machine that burns both ways burns those in one direction.";

function pixelTimeNote({ isSpeedGiven, pitchAlongMm, speedMmPerS }: CardJob, { units }: Reader): string[] {
  if (!isSpeedGiven) return [];
  const us = (1e6 * pitchAlongMm) / speedMmPerS;
  return [
    `At ${speedWords(speedMmPerS, units)} a pixel lasts ${Number(us.toPrecision(2))} µs. A source that needs a good part of that to start burns the shortest bursts too weakly. Halftones suffer from it too, so burn the card at the speed of your jobs.`,
  ];
}
