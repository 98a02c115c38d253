import { type Command, isSwitch, type Option, type OptionTable } from "../options/option.js";
import { defaultWords, takesWords } from "../options/option-words.js";
import { commandWords } from "./commands.js";
import { commandOptions } from "./flags.js";

/** Every command and its options in Markdown: the content of README.md beside this file. */
export function optionReference(): string {
  const sections = Object.values(commandOptions).flatMap(({ name, table }) => section(name, table));
  return `${[INTRODUCTION, ...sections].join("\n\n")}\n`;
}

const INTRODUCTION = `# Options of the commands

Made from the tables in \`src/options/table\` by \`npm run reference\`. Change the tables, not this page.

An option has its name without dashes in a config file (\`{"width": "80mm"}\`) and in a job sheet (a column \`width\`). A switch has an opposite: \`--no-mirror\`, \`--auto-tone\`. The command line wins over a row of a job sheet, that over the config file, and that over the machine file.`;

function section(name: Command, table: OptionTable): string[] {
  const { argument, description, files, exitCodes, examples } = commandWords[name];
  const asPrepare = name === "batch";
  const own = Object.entries(table).filter(
    ([option]) => !asPrepare || !(option in commandOptions.prepare.table),
  );
  const headings = [...new Set(own.map(([, { heading }]) => heading))];
  return [
    `## spotpitch ${name}`,
    `${capital(description)}.${argument ? ` \`${argument[0]}\`: ${argument[1]}.` : ""}`,
    `\`\`\`\n${examples.join("\n")}\n\`\`\``,
    rows(
      ["Option", "Meaning"],
      files.map(([flag, help]) => [code(flag), help]),
    ),
    ...headings.flatMap((heading) => [
      `### ${heading}`,
      rows(
        COLUMNS,
        own
          .filter(([, option]) => option.heading === heading)
          .map(([library, option]) => row(library, option)),
      ),
    ]),
    ...(asPrepare ? ["It also takes every option of `prepare`."] : []),
    exitCodes,
  ];
}

const COLUMNS = ["Option", "In the library", "Takes", "Default", "Meaning"];

const row = (name: string, option: Option): string[] => [
  code(option.flag),
  code(name),
  isSwitch(option.flag) ? "switch" : takesWords(option),
  defaultWords(option) ?? "",
  option.help,
];

const rows = (head: readonly string[], body: readonly (readonly string[])[]): string =>
  [head, head.map(() => "---"), ...body].map((cells) => `| ${cells.join(" | ")} |`).join("\n");

const code = (text: string): string => `\`${text}\``;
const capital = (text: string): string => text[0].toUpperCase() + text.slice(1);
