import type { Command } from "../options/option.js";

/** The arguments and options of a command that the library does not have, and the other texts of its help. */
export interface CommandWords {
  readonly argument?: readonly [usage: string, help: string];
  readonly description: string;
  /** Options for places of files and for the form of the results: usage and help. */
  readonly files: readonly (readonly [usage: string, help: string])[];
  readonly exitCodes: string;
  readonly examples: readonly string[];
}

const PHOTO = "JPEG, PNG, WebP, TIFF, AVIF, HEIC, GIF or SVG";
const SETTINGS = [
  ["--config <file>", "the same options from a JSON file; the command line wins"],
  [
    "--machine <file>",
    'your machine: spot, speed and so on from a JSON file, below all other options (default: the one that "spotpitch machine" keeps)',
  ],
  ["--no-machine", "without the machine that is kept"],
] as const;

export const exitCodes = (more = ""): string =>
  `Exit codes: 0 done, 1 something failed in the work, 2 bad usage or option, 3 bad input file${more}.`;

/** The commands that take options of the library, in the order of the help. */
export const commandWords: Readonly<Record<Command, CommandWords>> = {
  prepare: {
    argument: ["<photo>", PHOTO],
    description: "one photo to an engraving bitmap, a preview and a density report",
    files: [
      ["--out <dir>", "where files go, made if missing (default: this folder)"],
      ...SETTINGS,
      ["--json", "print the report as JSON"],
    ],
    exitCodes: exitCodes(),
    examples: [
      "spotpitch prepare boat.jpg --width 80mm --density 254 --spot 0.115mm --material slate --out engraved",
    ],
  },
  plan: {
    argument: ["[photo]", `${PHOTO}; without one a built-in picture is used`],
    description:
      "which line density is worth its machine time, for this spot, material, size and kind of work",
    files: [
      ["--out <dir>", "where plan.html goes, made if missing (default: this folder)"],
      ...SETTINGS,
      ["--json", "print the plan as JSON"],
    ],
    exitCodes: exitCodes(),
    examples: [
      "spotpitch plan boat.jpg --width 80mm --spot 0.115mm --material maple --out planned",
      "spotpitch plan --kind strip --width 60mm --height 40mm --spot 0.115mm --material coated-steel --against 800",
      "spotpitch plan --kind shade --width 60mm --material maple --wavelength 10.6um --beam-diameter 7mm --focal-length 1.5in,2in",
    ],
  },
  batch: {
    argument: [
      "[inputs...]",
      "folders, files or globs (in quotes); after -- also such that begin with a dash",
    ],
    description: "a folder of customer uploads, each prepared or explained",
    files: [
      ["--out <dir>", "where files go, made if missing; a second run continues there (default: batch)"],
      ...SETTINGS,
      [
        "--sheet <file>",
        "job sheet, CSV or JSON: file, note, and any option by its name; wins over the config file, the command line over it",
      ],
      ["--list <file>", "a text file with a path on each line"],
      [
        "--words <file>",
        'your words to customers, JSON; "spotpitch words" prints the English ones to start from',
      ],
      ["--recursive", "look into folders of the folders too"],
      ["--watch", "keep running, and take new uploads when their writing has ended"],
      ["--json", "print what batch.json holds"],
    ],
    exitCodes:
      "Exit codes: 0 all prepared, 4 some refused, 1 something failed in the work, 2 bad usage or option, 3 bad job sheet or input.",
    examples: [
      "spotpitch batch uploads --config shop.json --sheet jobs.csv --out engraved",
      "spotpitch batch uploads --config shop.json --queue redis://10.0.0.5:6379 --store /mnt/shop --out engraved",
    ],
  },
  worker: {
    description: "takes jobs of batches from a queue, on any number of computers",
    files: [
      ["--config <file>", "the same options from a JSON file; the command line wins"],
      ["--show", "only list the workers, the jobs that wait, and those that were refused"],
      ["--json", "print what was done, or with --show what the queue holds, as JSON"],
    ],
    exitCodes: exitCodes(),
    examples: [
      "spotpitch worker --queue rediss://queue.harbour.example:6379 --store /mnt/shop --queue-login queue.json",
      "spotpitch worker --queue redis://10.0.0.5:6379 --store s3://shop/jobs --show",
    ],
  },
  compare: {
    argument: ["<photo>", PHOTO],
    description: "the same photo through several methods, densities or materials, side by side, measured",
    files: [
      ["--out <dir>", "where compare.html, .png, .json and .csv go, made if missing (default: this folder)"],
      ...SETTINGS,
      ["--json", "print the comparison as JSON"],
    ],
    exitCodes: exitCodes(),
    examples: [
      "spotpitch compare boat.jpg --width 80mm --method floyd-steinberg,clustered-dot --density 254,300 --out compared",
    ],
  },
  "power-test": {
    description: "a solid patch to burn at five powers, and how to find the one for full tone",
    files: [
      ["--out <dir>", "where the patch and power-test.html go, made if missing (default: this folder)"],
      ...SETTINGS,
      ["--json", "print the test as JSON"],
    ],
    exitCodes: exitCodes(),
    examples: ["spotpitch power-test --material maple --density 254 --spot 0.115mm --speed 300 --out tested"],
  },
  card: {
    description:
      "a test card to engrave and photograph, from which your machine and material can be measured",
    files: [
      [
        "--out <dir>",
        "where card.burn.png, .preview.png, .json and .html go, made if missing (default: this folder)",
      ],
      [
        "--check [photo]",
        "a check card instead: tones and a photo (default: a built-in picture) prepared with your learnt material and machine, to see whether they hold",
      ],
      ...SETTINGS,
      ["--json", "print what is on the card as JSON"],
    ],
    exitCodes: exitCodes(),
    examples: [
      "spotpitch card --material maple --spot 0.1mm --speed 300 --out card",
      "spotpitch card --material slate --density 508 --size 40x30 --out card",
      "spotpitch card --check boat.jpg --material mine.material.json --machine mine.machine.json --density 254 --out check",
    ],
  },
  calibrate: {
    argument: [
      "<pictures...>",
      "pictures of one engraved card: a scan or photos, JPEG, PNG, WebP, TIFF or AVIF",
    ],
    description: "pictures of an engraved test card to a material file and a machine file of your own",
    files: [
      ["--out <dir>", "where files go, made if missing (default: this folder)"],
      [
        "--card <file>",
        "card.json of the card; the code on it is enough, but with this any other card is refused. A check card needs it",
      ],
      ["--check", "the pictures show a check card: tell whether its tones came out as predicted"],
      ...SETTINGS,
      ["--json", "print what was learnt as JSON"],
    ],
    exitCodes: exitCodes(" or a picture that will not do"),
    examples: [
      "spotpitch calibrate card.jpg --material maple --name board --out learnt",
      "spotpitch calibrate --check checked.jpg --card check/card.json --out checked",
    ],
  },
};
