#!/usr/bin/env node
import { Command, CommanderError, Option } from "commander";
import { exitStatus, SpotpitchError } from "../core/errors.js";
import { packageVersion } from "../core/version.js";
import { type Flag, flagName, prepareFlags } from "./flags.js";

const EXIT_CODES = `
Exit codes: 0 done, 1 something failed in the work, 2 bad usage or option, 3 bad input file.`;

const program = new Command("spotpitch")
  .description(
    "Prepare photographs for raster engraving: laid on lines that suit the spot, tone corrected for spot and material, halftoned, with a picture and figures of what the piece will look like.",
  )
  .version(packageVersion())
  .option("--debug", "show where in the program an error arose")
  .addHelpText(
    "after",
    `${EXIT_CODES}\n\nExample:\n  spotpitch prepare boat.jpg --width 80mm --spot 0.115mm --material maple --out engraved`,
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
    `${EXIT_CODES}\n\nExample:\n  spotpitch prepare boat.jpg --width 80mm --density 254 --spot 0.115mm --material slate --out engraved`,
  );
for (const flag of prepareFlags) {
  prepare.addOption(new Option(flag.usage, flag.help).helpGroup(`${flag.group}:`));
}
prepare.action(async (photo: string, values: Record<string, unknown>) => {
  const { prepareCommand } = await import("./prepare-command.js");
  const typed = new Map<string, string | boolean>();
  for (const flag of prepareFlags) {
    const value = typedValue(flag);
    if (value !== undefined) typed.set(flagName(flag), value);
  }
  await prepareCommand({
    photo,
    out: textOf(values.out),
    config: textOf(values.config),
    json: values.json === true,
    typed,
  });
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

// A reader that has had enough, such as `head`, is no failure.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
  process.exit();
});

try {
  await program.parseAsync();
} catch (error) {
  process.exitCode = report(error);
}

/** Tell the user, once and without a stack trace unless asked. Returns the exit status. */
function report(error: unknown): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
  const message = error instanceof Error ? error.message : String(error);
  const text = error instanceof SpotpitchError ? asTyped(error) : `Something went wrong: ${message}`;
  process.stderr.write(`spotpitch: ${text}\n`);
  if (program.opts().debug && error instanceof Error) process.stderr.write(`${error.stack}\n`);
  return exitStatus(error);
}

/** The library names its options and their values; the user knows flags, and what was typed. */
function asTyped({ message, code, option, allowed }: SpotpitchError): string {
  const flag = prepareFlags.find((candidate) => candidate.option === option);
  if (!flag) return message;
  const typed = typedValue(flag);
  if (code === "OPTION_INVALID" && allowed !== undefined && typed !== undefined) {
    return `--${flagName(flag)} takes ${allowed}; got "${typed}".`;
  }
  return message.replace(new RegExp(`^${option}\\b`), `--${flagName(flag)}`);
}

/** What the user typed for an option of `prepare`; undefined where nothing was. */
function typedValue(flag: Flag): string | boolean | undefined {
  const key = new Option(flag.usage).attributeName();
  if (prepare.getOptionValueSource(key) !== "cli") return undefined;
  return prepare.opts<Record<string, string | boolean>>()[key];
}

/** What the option parser says ("error: unknown option '--widht'", a suggestion below it) in the form of all our messages. */
function usageMessage(text: string): string {
  const sentence = text
    .replace(/^error: /, "")
    .trim()
    .replace(/\s*\n\s*/g, " ")
    .replace(/\.$/, "");
  return `spotpitch: ${sentence}. --help lists what there is.\n`;
}

function textOf(value: unknown): string | undefined {
  return value === undefined ? undefined : String(value);
}
