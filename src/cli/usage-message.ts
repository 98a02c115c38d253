import type { Command } from "../options/option.js";
import { commandWords } from "./commands.js";
import { commandOptions, type Flag, flagName, flagNamed, isSwitch, oppositeName } from "./flags.js";
import { answerTo } from "./other-names.js";

/**
 * A message of the option parser ("error: unknown option '--widht'", with a suggestion below) in the form of all our messages. For
 * a mistake that we know, it says what to type.
 *
 * @param words what the user typed after the name of the program
 */
export function usageMessage(text: string, words: readonly string[]): string {
  return knownMistake(text, words) ?? `${asSentence(text)}. Run --help for the options.`;
}

const asSentence = (text: string): string =>
  text
    .replace(/^error: /, "")
    .trim()
    .replace(/\s*\n\s*/g, " ")
    .replace(/\.$/, "");

function knownMistake(text: string, words: readonly string[]): string | undefined {
  const photo = /unknown command '(.+\.\w+)'/.exec(text)?.[1];
  if (photo !== undefined) return `"${photo}" is no command. Type: spotpitch prepare ${quoted(photo)}.`;
  const unknown = /unknown option '(.+?)'/s.exec(text)?.[1];
  const tooMany = text.includes("too many arguments");
  if (unknown === undefined && !tooMany) return undefined;
  return (
    valueOfSwitch(words) ??
    wrongDash(words) ??
    (unknown === undefined ? severalPhotos(words) : unknownOption(unknown, words))
  );
}

/** A switch that was typed with a value: `--mirror no`, `--mirror=no`. */
function valueOfSwitch(words: readonly string[]): string | undefined {
  const parts = words.flatMap((word) => word.split("="));
  for (let i = 1; i < parts.length; i++) {
    const flag = commandOptions.prepare.flags.find(
      (candidate) => isSwitch(candidate) && parts[i - 1] === `--${flagName(candidate)}`,
    );
    if (flag && /^(yes|no|true|false|on|off|0|1)$/i.test(parts[i])) return switchWords(flag, parts[i]);
  }
  return undefined;
}

const switchWords = (flag: Flag, value: string): string =>
  `--${flagName(flag)} is a switch and takes no value, but "${value}" follows it. Leave the value out, or write --${oppositeName(flag)} for the opposite.`;

/** `-width`, or a long dash as text programs make it of two short ones. */
function wrongDash(words: readonly string[]): string | undefined {
  const { flags } = commandOptions[commandIn(words) ?? "prepare"];
  for (const word of words) {
    const [, dash, name] = /^(-|[–—]+)([a-z][a-z0-9-]+)/i.exec(word) ?? [];
    if (name === undefined || !flagNamed(flags, name)) continue;
    return `${word} starts with ${dash === "-" ? "one dash" : "a long dash"}, and an option starts with two short ones. Type --${name}.`;
  }
  return undefined;
}

function severalPhotos(words: readonly string[]): string | undefined {
  const command = commandIn(words);
  if (command === undefined || command === "batch") return undefined;
  if (commandWords[command].argument === undefined) {
    return `${command} takes no photo, only options. Leave out what has no -- before it. A value with a space in it needs quotes: --speed "12 in/s".`;
  }
  return `${command} takes one photo, and more was given. For several photos use spotpitch batch. A value with a space in it needs quotes: --width "3 in".`;
}

function unknownOption(option: string, words: readonly string[]): string | undefined {
  const command = commandIn(words);
  if (command === undefined) return undefined;
  const [flag, ...values] = option.split("=");
  const next = words[words.indexOf(option) + 1];
  const given = values.length > 0 ? values.join("=") : next?.startsWith("--") ? undefined : next;
  const answer = answerTo(command, flag.replace(/^-+/, ""), given, typedWords);
  return answer === undefined ? undefined : `${flag} is not an option of ${command}. ${answer}`;
}

const typedWords = (settings: readonly (readonly [flag: string, value: string | true])[]): string =>
  settings.map(([flag, value]) => (value === true ? `--${flag}` : `--${flag} ${quoted(value)}`)).join(" ");

const quoted = (value: string): string => (/\s/.test(value) ? `"${value}"` : value);

/** The command that the user typed. */
const commandIn = (words: readonly string[]): Command | undefined =>
  Object.values(commandOptions)
    .map(({ name }) => name)
    .find((name) => name === words.find((word) => !word.startsWith("-")));
