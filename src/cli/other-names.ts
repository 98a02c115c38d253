import { listWords } from "../core/words.js";
import type { Command } from "../options/option.js";
import { commandWords } from "./commands.js";
import { commandOptions, type Flag, flagName, flagNamed } from "./flags.js";

/** A flag and its value as text; true for a switch. Undefined if the user's value does not fit. */
type Setting = readonly [flag: string, value: string | true | undefined];
/** How options are written: on a command line, in a config file or in a job sheet. */
type Writing = (settings: readonly (readonly [flag: string, value: string | true])[]) => string;
/** What an option of that name, with that value, means in our options. */
type Meaning = (given: string | undefined) => readonly Setting[];

const flag =
  (name: string, value: (given: string) => string | undefined = (given) => given): Meaning =>
  (given) => [[name, given === undefined ? undefined : value(given)]];
const fixed =
  (name: string, value: string | true): Meaning =>
  () => [[name, value]];

/** `300`, `300dpi`, `300 ppi` and `300x300` as lines per inch. */
const linesPerInch = (given: string): string | undefined =>
  /^([\d.]+)(?:\s*[x×]\s*\1)?\s*[a-z]*$/i.exec(given)?.[1];
const inUnit =
  (unit: string) =>
  (given: string): string =>
    /^[\d.]+$/.test(given) ? given + unit : given;
/** `60x40mm`: the width and the height. */
function bothSides(given: string | undefined): readonly Setting[] {
  const [width, height, ...more] = (given ?? "").split(/\s*[x×,]\s*/i);
  const unit = /[a-z]+$/i.exec(given ?? "")?.[0] ?? "";
  if (more.length > 0 || !/^[\d.]/.test(width)) {
    return [
      ["width", undefined],
      ["height", undefined],
    ];
  }
  const side = (text: string) => (/[a-z]$/i.test(text) ? text : text + unit);
  return [["width", side(width)], ...(height ? [["height", side(height)] as const] : [])];
}
/** A file's name names no folder. */
const folderName = (given: string): string | undefined => (/\.\w{2,4}$/.test(given) ? undefined : given);
/** Eight bits are 256 power levels. */
const levelsOfBits = (given: string): string => String(2 ** Number.parseInt(given, 10));

/**
 * Names from the trade and from everyday English for what our options call otherwise. Of several meanings the first one counts
 * whose flags the command has.
 */
export const meanings: readonly (readonly [names: string, ...meanings: Meaning[]])[] = [
  [
    "dpi ppi lpi resolution res lines line-density lines-per-inch dots-per-inch density densities",
    flag("density", linesPerInch),
    flag("densities", linesPerInch),
  ],
  ["lines-per-mm lpmm dots-per-mm dpmm", flag("density", inUnit("/mm")), flag("densities", inUnit("/mm"))],
  [
    "interval pitch spacing line-spacing line-interval line-distance line-gap scan-gap hatch",
    flag("density", inUnit("mm")),
    flag("densities", inUnit("mm")),
  ],
  ["size dimensions dims", bothSides],
  ["w", flag("width")],
  ["diameter cylinder rotary round", flag("around")],
  [
    "o output output-dir output-folder out-dir outdir dir folder destination dest save-to",
    flag("out", folderName),
  ],
  ["dither dithering halftone halftoning algorithm", flag("method")],
  ["wood surface substrate", flag("material")],
  ["invert inverse inverted reverse negate", fixed("negative", true)],
  ["flip flop mirrored reflect", fixed("mirror", true)],
  ["grayscale greyscale gray grey", fixed("levels", "256")],
  ["colors colours greys grays shades power-levels", flag("levels")],
  ["bits bit-depth", flag("levels", levelsOfBits)],
  ["bw black-and-white one-bit", fixed("levels", "2")],
  ["threshold", fixed("method", "threshold")],
  ["logo lineart line-art artwork lettering", fixed("kind", "solid")],
  ["feed feedrate feed-rate velocity scan-speed", flag("speed")],
  ["acceleration acc", flag("accel")],
  ["beam beam-size beam-width dot dot-size spot-size spot-diameter spot-width", flag("spot")],
  ["unidirectional one-direction single-direction", fixed("one-way", true)],
  ["bidirectional two-way both-ways", fixed("no-one-way", true)],
  ["sharpness sharpening unsharp", flag("sharpen")],
  ["auto-contrast auto-levels normalize normalise equalize equalise", fixed("auto-tone", true)],
  ["feather fade", flag("vignette")],
  ["ellipse circle", fixed("oval", true)],
  ["frame outline", flag("border")],
  ["angle", flag("screen-angle")],
  ["type file-type filetype extension", flag("format")],
  ["focal focal-distance", flag("focal-length")],
  ["settings options options-file", flag("config")],
  ["csv jobs job-sheet", flag("sheet")],
  ["r recurse subfolders", fixed("recursive", true)],
  ["threads", flag("workers")],
];

/** Names of what is often wished for in error, with what to know first. */
const cautions: readonly (readonly [names: string, words: string])[] = [
  [
    "invert inverse inverted reverse negate",
    "Nothing needs to be inverted: black in the bitmap burns, and tones come out right on materials that mark darker and lighter. Only for a dark drawing on a light ground whose ink should come out light:",
  ],
];

/** Wishes that no option grants, with what to do instead. */
const advice: readonly (readonly [names: string, words: string])[] = [
  ["rotate rotation turn", "Turn the photo in a picture program, save it, and give that file."],
  ["unit units inch inches in mm cm metric imperial", "Write the unit after each number: 80mm, 8cm, 3in."],
];

/**
 * The answer to an option that a command does not have: what to give instead, with the user's own value. Undefined if its name says
 * nothing to us.
 *
 * @param typed the name without dashes
 * @param given the value, if one was given
 * @param write how options and their values are written where the user wrote this one
 */
export function answerTo(
  command: Command,
  typed: string,
  given: string | undefined,
  write: Writing,
): string | undefined {
  const name = typed.toLowerCase().replaceAll("_", "-");
  const listed = <Entry extends readonly [names: string, ...unknown[]]>(entries: readonly Entry[]) =>
    entries.find(([names]) => names.split(" ").includes(name));
  const [, ...known] = listed(meanings) ?? [""];
  const meant = [...known, ...ownNames(command, typed)]
    .map((meaning) => meaning(given))
    .find((settings) => settings.every(([flag]) => usageOf(command, flag) !== undefined));
  if (meant) {
    const settings = write(meant.map(([flag, value]) => [flag, fitting(command, flag, value)]));
    const caution = listed(cautions)?.[1];
    return caution === undefined ? `Use ${settings}.` : `${caution} use ${settings}.`;
  }
  return listed(advice)?.[1] ?? ofOtherCommands(name);
}

/** A flag of the command in capitals, with its unit behind it (`width-mm`), or by its name in the library (`widthMm`). */
function ownNames(command: Command, typed: string): readonly Meaning[] {
  const { flags } = commandOptions[command];
  const [, stem, unit] = /^(.+?)-(mm|cm|in|um|us|mm-s|mm-s2)$/.exec(typed) ?? [];
  const inLibrary = flags.find(({ option }) => option === typed);
  return [
    flag(typed.toLowerCase()),
    ...(stem === undefined ? [] : [flag(stem, inUnit(unit.replace("-", "/")))]),
    ...(inLibrary ? [flag(flagName(inLibrary))] : []),
  ];
}

/** `--width <length>` of a flag that the command has. */
function usageOf(command: Command, name: string): string | undefined {
  const flags: readonly Flag[] = commandOptions[command].flags;
  const own = flagNamed(flags, name)?.usage;
  return own ?? commandWords[command].files.map(([usage]) => usage).find((usage) => nameIn(usage) === name);
}

const nameIn = (usage: string): string => usage.slice(2).split(" ")[0];

/** Names of the options that say which files a command reads and writes. They are typed for each run. */
export const fileOptions = (command: Command): string[] =>
  commandWords[command].files.map(([usage]) => nameIn(usage));

/** The value, or a placeholder such as `<length>` if the option cannot read or does not take it. */
function fitting(command: Command, name: string, value: string | true | undefined): string | true {
  if (value === true) return value;
  const placeholder = usageOf(command, name)?.split(" ")[1] ?? "";
  const flag = flagNamed(commandOptions[command].flags, name);
  if (value === undefined || value === "") return placeholder;
  try {
    return !flag || flag.takes(flag.parse(flag.option, value)) ? value : placeholder;
  } catch {
    return placeholder;
  }
}

/** For an option that only other commands have. */
function ofOtherCommands(name: string): string | undefined {
  const others = Object.values(commandOptions).filter(({ flags }) => flagNamed(flags, name) !== undefined);
  if (others.length === 0) return undefined;
  return `It is an option of ${listWords(
    others.map((each) => each.name),
    "and",
  )}.`;
}
