#!/usr/bin/env node
import { setFlagsFromString } from "node:v8";
import { Command, CommanderError, Option } from "commander";
import { exitStatus, SpotpitchError } from "../core/errors.js";
import { packageVersion } from "../core/version.js";
import { didYouMean } from "../options/nearest-name.js";
import { batchFlags } from "./batch/flags.js";
import { compareFlags } from "./compare-flags.js";
import { type Flag, flagName, isSwitch, oppositeName, prepareFlags } from "./flags.js";
import { planFlags } from "./plan-flags.js";

// Rows and pieces of files are small objects here that stand for much memory elsewhere. A nursery that does not grow is swept
// often, and that memory is handed back: a bed of 372 megapixels then takes 25 MB less, and no more time.
setFlagsFromString("--semi-space-growth-factor=1");

const exitCodes = (more = ""): string => `
Exit codes: 0 done, 1 something failed in the work, 2 bad usage or option, 3 bad input file${more}.`;

const SWITCHES = `
What a config file switches, its opposite takes back: --no-mirror, --auto-tone and so on.
`;

const program = new Command("spotpitch")
  .description(
    "Prepare photographs for raster engraving: laid on lines that suit the spot, tone corrected for spot and material, halftoned, with a picture and figures of what the piece will look like.",
  )
  .version(packageVersion())
  .option("--debug", "show where in the program an error arose")
  .addHelpText(
    "after",
    `${exitCodes("; batch: 4 some uploads refused")}\n\nExample:\n  spotpitch prepare boat.jpg --width 80mm --spot 0.115mm --material maple --out engraved`,
  )
  .exitOverride()
  .configureOutput({ outputError: (text, write) => write(usageMessage(text)) })
  .showSuggestionAfterError();

const prepare = program
  .command("prepare")
  .argument("<photo>", "JPEG, PNG, WebP, TIFF, AVIF, GIF or SVG")
  .description("one photo to an engraving bitmap, a preview and a density report")
  .option("--out <dir>", "where files go, made if missing (default: this folder)")
  .option("--config <file>", "the same options from a JSON file; the command line wins")
  .option("--json", "print the report as JSON")
  .addHelpText(
    "after",
    `${SWITCHES}${exitCodes()}\n\nExample:\n  spotpitch prepare boat.jpg --width 80mm --density 254 --spot 0.115mm --material slate --out engraved`,
  );
addFlags(prepare, prepareFlags);
prepare.action(async (photo: string, values: Record<string, unknown>) => {
  const { prepareCommand } = await import("./prepare-command.js");
  await prepareCommand({ photo, ...common(values), typed: typedValues(prepare, prepareFlags) });
});

const plan = program
  .command("plan")
  .argument("[photo]", "JPEG, PNG, WebP, TIFF, AVIF, GIF or SVG; without one a built-in picture stands in")
  .description("which line density is worth its machine time, for this spot, material, size and kind of work")
  .option("--out <dir>", "where plan.html goes, made if missing (default: this folder)")
  .option("--config <file>", "the same options from a JSON file; the command line wins")
  .option("--json", "print the plan as JSON")
  .addHelpText(
    "after",
    `${SWITCHES}${exitCodes()}\n\nExample:\n  spotpitch plan boat.jpg --width 80mm --spot 0.115mm --material maple --out planned\n  spotpitch plan --kind strip --width 60mm --height 40mm --spot 0.115mm --material coated-steel --against 800\n  spotpitch plan --kind shade --width 60mm --material maple --wavelength 10.6um --beam-diameter 7mm --focal-length 1.5in,2in`,
  );
addFlags(plan, planFlags);
plan.action(async (photo: string | undefined, values: Record<string, unknown>) => {
  const { planCommand } = await import("./plan-command.js");
  await planCommand({ photo, ...common(values), typed: typedValues(plan, planFlags) });
});

const batch = program
  .command("batch")
  .argument("[inputs...]", "folders, files or globs (in quotes)")
  .description("a folder of customer uploads, each prepared or explained")
  .option("--out <dir>", "where files go, made if missing; a second run goes on there (default: batch)")
  .option("--config <file>", "the same options from a JSON file; the command line wins")
  .option("--sheet <file>", "job sheet, CSV or JSON: file, note, and any option by its name; wins over both")
  .option("--list <file>", "a text file with a path on each line")
  .option("--recursive", "look into folders of the folders too")
  .option("--watch", "go on, and take new uploads when their writing has ended")
  .option("--json", "print what batch.json holds")
  .addHelpText(
    "after",
    `${SWITCHES}
Exit codes: 0 all prepared, 4 some refused, 1 something failed in the work, 2 bad usage or option, 3 bad job sheet or input.

Example:
  spotpitch batch uploads --width 80mm --material slate --sheet jobs.csv --out engraved`,
  );
addFlags(batch, batchFlags);
batch.action(async (inputs: string[], values: Record<string, unknown>) => {
  const { batchCommand } = await import("./batch/command.js");
  process.exitCode = await batchCommand({
    inputs,
    ...common(values),
    typed: typedValues(batch, batchFlags),
    sheet: textOf(values.sheet),
    list: textOf(values.list),
    recursive: values.recursive === true,
    watch: values.watch === true,
  });
});

const compare = program
  .command("compare")
  .argument("<photo>", "JPEG, PNG, WebP, TIFF, AVIF, GIF or SVG")
  .description("the same photo through several methods, densities or materials, side by side, measured")
  .option(
    "--out <dir>",
    "where compare.html, .png, .json and .csv go, made if missing (default: this folder)",
  )
  .option("--config <file>", "the same options from a JSON file; the command line wins")
  .option("--json", "print the comparison as JSON")
  .addHelpText(
    "after",
    `${SWITCHES}${exitCodes()}\n\nExample:\n  spotpitch compare boat.jpg --width 80mm --method floyd-steinberg,clustered-dot --density 254,300 --out compared`,
  );
addFlags(compare, compareFlags);
compare.action(async (photo: string, values: Record<string, unknown>) => {
  const { compareCommand } = await import("./compare-command.js");
  await compareCommand({ photo, ...common(values), typed: typedValues(compare, compareFlags) });
});

program
  .command("methods")
  .description("the halftone methods, one line each, with their sources")
  .option("--json", "print them as JSON")
  .addHelpText("after", "\nExample:\n  spotpitch methods")
  .action(async ({ json }: { json?: boolean }) =>
    (await import("./list-commands.js")).methodsCommand(json === true),
  );

program
  .command("materials")
  .description("the material presets, one line each, with the sources of their figures")
  .option("--json", "print them as JSON")
  .addHelpText("after", "\nExample:\n  spotpitch materials")
  .action(async ({ json }: { json?: boolean }) =>
    (await import("./list-commands.js")).materialsCommand(json === true),
  );

// A reader that has had enough, such as `head`, is no failure. The work goes on to its end: locks are released and the exit
// status is what it would have been.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
});

try {
  await program.parseAsync();
} catch (error) {
  process.exitCode = await report(error);
}

/** Tell the user, once and without a stack trace unless asked. Returns the exit status. */
async function report(error: unknown): Promise<number> {
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
  const message = error instanceof Error ? error.message : String(error);
  const text = error instanceof SpotpitchError ? await asTyped(error) : `Something went wrong: ${message}`;
  process.stderr.write(`spotpitch: ${text}\n`);
  if (program.opts().debug && error instanceof Error) process.stderr.write(`${error.stack}\n`);
  return exitStatus(error);
}

/** The library names its options and their values; the user knows flags, and what was typed. */
async function asTyped({ message, code, option, allowed, received }: SpotpitchError): Promise<string> {
  const commands = {
    plan: [plan, planFlags],
    batch: [batch, batchFlags],
    compare: [compare, compareFlags],
  } as const;
  const name = program.args[0];
  const [command, flags] =
    name === "plan" || name === "batch" || name === "compare"
      ? commands[name]
      : ([prepare, prepareFlags] as const);
  const flag = flags.find((candidate) => candidate.option === option);
  if (!flag) return message;
  if (code === "OPTION_METHOD_UNKNOWN") {
    const near = didYouMean(String(received), allowed?.split(", ") ?? []);
    return `--method "${received}" is not a halftone method.${near} "spotpitch methods" lists them.`;
  }
  if (code === "OPTION_MATERIAL_UNKNOWN") {
    const { materialPresets } = await import("../core/material/material-presets.js");
    const names = materialPresets.flatMap(({ id, aliases = [] }) => [id, ...aliases]);
    return `--material "${received}" is not a preset.${didYouMean(String(received), names)} "spotpitch materials" lists them; a material file of your own ends in .json.`;
  }
  const typed = typedValue(command, flag);
  if (code === "OPTION_INVALID" && allowed !== undefined && typed !== undefined) {
    return `--${flagName(flag)} takes ${allowed}; got "${typed}".`;
  }
  return message.replace(new RegExp(`^${option}\\b`), `--${flagName(flag)}`);
}

function addFlags(command: Command, flags: readonly Flag[]): void {
  for (const flag of flags) {
    const { usage, help, group } = flag;
    command.addOption(new Option(usage, help).helpGroup(`${group}:`));
    if (isSwitch(flag)) command.addOption(new Option(`--${oppositeName(flag)}`).hideHelp());
  }
}

/** What the user typed for an option; undefined where nothing was. */
function typedValue(command: Command, flag: Flag): string | boolean | undefined {
  const key = new Option(flag.usage).attributeName();
  if (command.getOptionValueSource(key) !== "cli") return undefined;
  return command.opts<Record<string, string | boolean>>()[key];
}

/** Values by flag name, only what was typed. */
function typedValues(command: Command, flags: readonly Flag[]): Map<string, string | boolean> {
  const typed = new Map<string, string | boolean>();
  for (const flag of flags) {
    const value = typedValue(command, flag);
    if (value !== undefined) typed.set(flagName(flag), value);
  }
  return typed;
}

/** Options of the command line alone, which both commands have. */
function common(values: Record<string, unknown>) {
  return { out: textOf(values.out), config: textOf(values.config), json: values.json === true };
}

/** What the option parser says ("error: unknown option '--widht'", a suggestion below it) in the form of all our messages. */
function usageMessage(text: string): string {
  const valued = /too many arguments|unknown option/.test(text) ? switchWithValue() : undefined;
  if (valued) {
    const [flag, value] = valued;
    return `spotpitch: --${flagName(flag)} is a switch and takes no value, but "${value}" follows it. Leave the value out, or write --${oppositeName(flag)} for the opposite.\n`;
  }
  const sentence = text
    .replace(/^error: /, "")
    .trim()
    .replace(/\s*\n\s*/g, " ")
    .replace(/\.$/, "");
  return `spotpitch: ${sentence}. --help lists what there is.\n`;
}

/** A switch behind which a yes or no was typed, as if it took a value: `--mirror no`, `--mirror=no`. */
function switchWithValue(): readonly [Flag, string] | undefined {
  const words = process.argv.slice(2).flatMap((word) => word.split("="));
  for (let i = 1; i < words.length; i++) {
    const flag = prepareFlags.find(
      (candidate) => isSwitch(candidate) && words[i - 1] === `--${flagName(candidate)}`,
    );
    if (flag && /^(yes|no|true|false|on|off|0|1)$/i.test(words[i])) return [flag, words[i]];
  }
  return undefined;
}

function textOf(value: unknown): string | undefined {
  return value === undefined ? undefined : String(value);
}
