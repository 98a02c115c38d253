import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, it } from "vitest";
import { commandReader, commandReaderFor, sheetReader } from "../../src/cli/command-reader.js";
import { commandOptions, flagName, isSwitch, oppositeName } from "../../src/cli/flags.js";
import { libraryReader } from "../../src/core/reader.js";
import { METRIC } from "../../src/core/shown-units.js";
import { parseFullTone } from "../../src/options/quantities.js";

const source = fileURLToPath(new URL("../../src/", import.meta.url));

/** The command, the tables of options that give flags their names, and the readers that tell them apart. */
const OF_OPTIONS =
  /^(cli\/|options\/|batch\/(?:batch|queue)-options\.ts|board\/board-options\.ts|core\/reader\.ts)/;

/** Sources of the library: all but the command, and the table of options that gives flags their names. */
const library = readdirSync(source, { recursive: true, encoding: "utf8" })
  .filter((file) => /\.(ts|js)$/.test(file) && !OF_OPTIONS.test(file))
  .map((file) => ({ file, text: readFileSync(source + file, "utf8") }));

/** Every flag of the command. */
const { plan, batch } = commandOptions;
const flags = [...batch.flags, ...plan.flags].flatMap((flag) =>
  isSwitch(flag) ? [flagName(flag), oppositeName(flag)] : [flagName(flag)],
);
const ofCommand = [...new Set(flags), "out", "config", "json", "debug", "help", "sheet", "list"].join("|");

it("no text of the library holds a flag", () => {
  // Two dashes also begin the CSS variables of a page; these have other names.
  const flag = new RegExp(`(?<![\\w-])--(${ofCommand})(?![\\w-])`, "g");
  expect("set --kind solid".match(flag)).toEqual(["--kind"]);
  const found = library.flatMap(({ file, text }) =>
    (text.match(flag) ?? []).map((each) => `${file}: ${each}`),
  );
  expect(found).toEqual([]);
});

it("no text of the library names a command", () => {
  const command = /\bspotpitch (prepare|plan|compare|batch|methods|materials)\b|\bnpx\b/g;
  const found = library.flatMap(({ file, text }) =>
    (text.match(command) ?? []).map((each) => `${file}: ${each}`),
  );
  expect(found).toEqual([]);
});

it.each([
  ["widthMm", 80, "widthMm: 80", "--width 80", '"width" to 80'],
  ["kind", "solid", 'kind: "solid"', "--kind solid", '"kind" to "solid"'],
  ["negative", true, "negative: true", "--negative", '"negative" to true'],
  ["mirror", false, "mirror: false", "--no-mirror", '"mirror" to false'],
  ["compensate", false, "compensate: false", "--no-compensate", '"compensate" to false'],
  ["autoTone", true, "autoTone: true", "--auto-tone", '"auto-tone" to true'],
  ["propagationRatio", 1, "propagationRatio: 1", "--m2 1", '"m2" to 1'],
])("%s set to %j is written as each reader writes it", (name, value, inLibrary, typed, inSheet) => {
  expect(libraryReader.setting(name, value)).toBe(inLibrary);
  expect(commandReader.setting(name, value)).toBe(typed);
  expect(sheetReader.setting(name, value)).toBe(inSheet);
});

// What is typed is read again, as the same setting.
it.each([
  [300, "mm/s", "40%@254@300mm/s"],
  [304.8, "in/s", "40%@254@12in/s"],
  [0.0042, "mm/s", "40%@254@0.0042mm/s"],
  [250, "m/s", "40%@254@0.25m/s"],
] as const)("a full-tone setting at %d mm/s is typed in %s", (speedMmPerS, speed, text) => {
  const found = { percent: 40, linesPerInch: 254, speedMmPerS };
  const typed = commandReaderFor({ units: { ...METRIC, speed } }).fullTone(found);
  expect(typed).toBe(`--power ${text}`);
  expect(parseFullTone("power", text)).toEqual({
    ...{ percent: 40, linesPerInch: expect.closeTo(254, 9) },
    speedMmPerS: expect.closeTo(speedMmPerS, 9),
  });
});

it("an option without a flag keeps its name", () => {
  expect(commandReader.option("lostOption")).toBe("lostOption");
  expect(commandReader.option("linesPerInch")).toBe("--density");
  expect(sheetReader.option("linesPerInch")).toBe('"density"');
});
