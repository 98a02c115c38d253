import { Command, CommanderError, Option } from "commander";
import { exitStatus, SpotpitchError } from "../core/errors.js";
import { sayRefusal } from "../core/refusals/refusals.js";
import { packageVersion } from "../core/version.js";
import { visible } from "../core/words.js";
import type { Command as CommandName } from "../options/option.js";
import { commandReader } from "./command-reader.js";
import { commandWords, exitCodes } from "./commands.js";
import { commandOptions, type Flag, flagName, isSwitch, oppositeName } from "./flags.js";
import { tell } from "./terminal.js";
import { usageMessage } from "./usage-message.js";

const SWITCHES =
  "A switch set in a config file is undone by its opposite: --no-mirror, --auto-tone and so on.";

/** The arguments of one call of a command. */
interface Call {
  readonly inputs: readonly string[];
  readonly values: Readonly<Record<string, unknown>>;
  readonly typed: ReadonlyMap<string, string | boolean>;
  /** Sets an exit status other than 0. */
  readonly endWith: (status: number) => void;
}

/**
 * Runs the command line that the user typed, and prints what it has to say. Returns the exit status.
 *
 * @param words what stands after the name of the program
 */
export async function runCommand(words: readonly string[]): Promise<number> {
  // An option parser keeps what it has read, so each run has its own.
  const program = createProgram(words);
  let status = 0;
  const endWith = (other: number): void => {
    status = other;
  };
  for (const { name, flags } of Object.values(commandOptions)) {
    addCommand(program, name, flags, (call) => actions[name]({ ...call, endWith }));
  }
  addList(program, "methods", "the halftone methods, one line each, with their sources");
  addList(program, "materials", "the material presets, one line each, with the sources of their figures");
  addMachine(program);
  addDesk(program);
  addWords(program);
  try {
    await program.parseAsync(words, { from: "user" });
  } catch (error) {
    return report(error, program.opts().debug === true);
  }
  return status;
}

const createProgram = (words: readonly string[]): Command =>
  new Command("spotpitch")
    .description(
      "Prepare photographs for raster engraving: laid on lines that suit the spot, tone corrected for spot and material, halftoned, with a picture and figures of what the piece will look like.",
    )
    .version(packageVersion())
    .option("--debug", "show where in the program an error arose")
    .addHelpText(
      "after",
      `\n${exitCodes("; batch: 4 some uploads refused")}\n\nExample:\n  spotpitch prepare boat.jpg --width 80mm --spot 0.115mm --material maple --out engraved`,
    )
    .exitOverride()
    .configureOutput({
      outputError: (text) => tell(`spotpitch: ${visible(usageMessage(text, words))}\n`),
    })
    .showSuggestionAfterError();

/** Each command loads only its own code, so that it starts sooner. */
const actions: Readonly<Record<CommandName, (call: Call) => Promise<void>>> = {
  async prepare({ inputs: [photo], values, typed }) {
    const { prepareCommand } = await import("./prepare-command.js");
    await prepareCommand({ photo, ...common(values), typed });
  },
  async plan({ inputs: [photo], values, typed }) {
    const { planCommand } = await import("./plan-command.js");
    await planCommand({ photo, ...common(values), typed });
  },
  async batch({ inputs, values, typed, endWith }) {
    const { batchCommand } = await import("./batch/command.js");
    const status = await batchCommand({
      inputs,
      ...common(values),
      typed,
      sheet: textOf(values.sheet),
      list: textOf(values.list),
      words: textOf(values.words),
      recursive: values.recursive === true,
      watch: values.watch === true,
    });
    endWith(status);
  },
  async worker({ values, typed }) {
    const { workerCommand } = await import("./queue/worker-command.js");
    const { config, json } = common(values);
    await workerCommand({ typed, config, show: values.show === true, json });
  },
  async compare({ inputs: [photo], values, typed }) {
    const { compareCommand } = await import("./compare-command.js");
    await compareCommand({ photo, ...common(values), typed });
  },
  async "power-test"({ values, typed }) {
    const { powerTestCommand } = await import("./power-test-command.js");
    await powerTestCommand({ ...common(values), typed });
  },
  async calibrate({ inputs, values, typed }) {
    const { calibrateCommand } = await import("./calibrate-command.js");
    await calibrateCommand({
      ...{ pictures: inputs, card: textOf(values.card), check: values.check === true },
      ...common(values),
      typed,
    });
  },
  async card({ values, typed }) {
    const { cardCommand } = await import("./card-command.js");
    // A switch with a photo or without one.
    const check = values.check === true || textOf(values.check);
    await cardCommand({ check: check ?? false, ...common(values), typed });
  },
};

function addCommand(
  program: Command,
  name: CommandName,
  flags: readonly Flag[],
  action: (call: Omit<Call, "endWith">) => Promise<void>,
): void {
  const { argument, description, files, exitCodes, examples } = commandWords[name];
  const command = program.command(name).description(description);
  if (argument) command.argument(...argument);
  for (const [usage, help] of files) command.option(usage, help);
  command.addHelpText("after", ["", SWITCHES, "", exitCodes, "", exampleWords(examples)].join("\n"));
  addFlags(command, flags);
  command.action(() => {
    const inputs = command.processedArgs.flat().filter((input) => input !== undefined);
    return action({ inputs, values: command.opts(), typed: typedValues(command, flags) });
  });
}

function addList(program: Command, name: "methods" | "materials", description: string): void {
  program
    .command(name)
    .description(description)
    .option("--json", "print them as JSON")
    .addHelpText("after", `\nExample:\n  spotpitch ${name}`)
    .action(async ({ json }: { json?: boolean }) => {
      const { methodsCommand, materialsCommand } = await import("./list-commands.js");
      await (name === "methods" ? methodsCommand : materialsCommand)(json === true);
    });
}

function addMachine(program: Command): void {
  program
    .command("machine")
    .description("your machine, kept for all commands: spot, speed and so on need not be typed again")
    .argument("[file]", "machine file to keep as your default; without one the kept machine is shown")
    .option("--forget", "keep none any more")
    .option("--json", "print the kept machine as JSON")
    .addHelpText("after", `\n${exitCodes()}\n\nExample:\n  spotpitch machine mine.machine.json`)
    .action(async (file: string | undefined, { forget, json }: { forget?: boolean; json?: boolean }) =>
      (await import("./machine-command.js")).machineCommand({
        file,
        forget: forget === true,
        json: json === true,
      }),
    );
}

function addDesk(program: Command): void {
  program
    .command("desk")
    .description("the page of a batch to work at: what is approved or sent back is kept in its folder")
    .argument("<folder>", "output folder of a batch")
    .option("--port <n>", "port on this computer (default: any that is free)")
    .option("--json", "print the address as JSON")
    .addHelpText("after", `\n${exitCodes()}\n\nExample:\n  spotpitch desk engraved`)
    .action(async (folder: string, { port, json }: { port?: string; json?: boolean }) =>
      (await import("./desk/command.js")).deskCommand({ folder, port, json: json === true }),
    );
}

function addWords(program: Command): void {
  program
    .command("words")
    .description("the words to customers in English, to edit, translate and give to batch with --words")
    .argument("[file]", "words of your own to check instead")
    .option("--json", "the same: the words are JSON")
    .addHelpText("after", `\n${exitCodes()}\n\nExample:\n  spotpitch words > shop-words.json`)
    .action(async (file: string | undefined) => (await import("./words-file.js")).wordsCommand(file));
}

/** Print an error, and with `--debug` its stack trace too. Returns the exit status. */
function report(error: unknown, debug: boolean): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
  const message = error instanceof Error ? error.message : String(error);
  const text =
    error instanceof SpotpitchError ? sayRefusal(error, commandReader) : `Something went wrong: ${message}`;
  tell(`spotpitch: ${visible(text)}\n`);
  if (debug && error instanceof Error) tell(`${error.stack}\n`);
  return exitStatus(error);
}

function addFlags(command: Command, flags: readonly Flag[]): void {
  for (const flag of flags) {
    const { usage, help, group } = flag;
    command.addOption(new Option(usage, help).helpGroup(`${group}:`));
    if (isSwitch(flag)) command.addOption(new Option(`--${oppositeName(flag)}`).hideHelp());
  }
}

/** Values by flag name, only those that were typed. */
function typedValues(command: Command, flags: readonly Flag[]): Map<string, string | boolean> {
  const typed = new Map<string, string | boolean>();
  for (const flag of flags) {
    const key = new Option(flag.usage).attributeName();
    if (command.getOptionValueSource(key) !== "cli") continue;
    typed.set(flagName(flag), command.opts<Record<string, string | boolean>>()[key]);
  }
  return typed;
}

function exampleWords(examples: readonly string[]): string {
  return ["Example:", ...examples.map((example) => `  ${example}`)].join("\n");
}

/** Options that all commands have and that the library does not have. */
function common(values: Record<string, unknown>) {
  const { machine } = values;
  return {
    out: textOf(values.out),
    config: textOf(values.config),
    // Commander makes a negated option true by default.
    machine: typeof machine === "boolean" ? (machine ? undefined : (false as const)) : textOf(machine),
    json: values.json === true,
  };
}

function textOf(value: unknown): string | undefined {
  return value === undefined ? undefined : String(value);
}
