/** Control characters, and those that turn the direction of writing. */
const OBEYED = /[\p{Cc}\p{Bidi_Control}]/gu;

/** Such characters as escapes, which JSON reads as the same characters. Line ends stay. */
const harmless = (text: string): string =>
  text.replace(OBEYED, (character) => (character === "\n" ? character : escaped(character)));

const escaped = (character: string): string => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`;

/**
 * Everything that the command prints goes through these two: a terminal would obey a control character in a name, and show what the
 * file's sender wants.
 */
export const print = (text: string): void => void process.stdout.write(harmless(text));
export const tell = (text: string): void => void process.stderr.write(harmless(text));
