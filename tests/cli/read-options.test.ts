import { writeFileSync } from "node:fs";
import { afterAll, describe, expect, it } from "vitest";
import { commandOptions } from "../../src/cli/flags.js";
import { readOptions } from "../../src/cli/read-options.js";
import { temporaryFolder } from "./command.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

function config(content: object): string {
  writeFileSync(folder.in("shop.json"), JSON.stringify(content));
  return folder.in("shop.json");
}
const row = (values: Record<string, unknown>) => ({ values, where: "row 2 of jobs.csv" });
const { prepare, plan, compare } = commandOptions;

describe("what wins", () => {
  it("is the row of a sheet over the command line over the config file", async () => {
    const file = config({ width: 70, height: 60, spot: 0.1, "no-auto-tone": true });
    const typed = new Map<string, string | boolean>([
      ["height", "50"],
      ["spot", "0.2"],
      ["no-auto-tone", true],
    ]);
    const { options } = await readOptions(prepare, typed, file, row({ spot: "0.3mm" }));
    expect(options).toEqual({
      widthMm: 70,
      heightMm: 50,
      spotMm: { alongMm: 0.3, acrossMm: 0.3 },
      autoTone: true,
    });
  });
});

describe("what is wrong with a value is told by name and value as they were written", () => {
  const wrong = (given: Promise<unknown>) =>
    given.then(
      () => "nothing",
      (error: Error) => error.message,
    );

  it("on the command line", async () => {
    expect(await wrong(readOptions(prepare, new Map([["width", "9999"]]), undefined))).toBe(
      '--width takes more than 0 and no more than 3000 mm; got "9999".',
    );
    expect(await wrong(readOptions(compare, new Map([["levels", "2,300"]]), undefined))).toBe(
      '--levels takes a whole number from 2 (on and off) to 256; got "2,300".',
    );
    // Of a list that cannot be read, the part.
    expect(await wrong(readOptions(plan, new Map([["densities", "254,lots"]]), undefined))).toMatch(
      /^--densities takes lines per inch .*; got "lots"\.$/,
    );
  });

  it("in a config file", async () => {
    const file = config({ width: 9999 });
    expect(await wrong(readOptions(prepare, new Map(), file))).toBe(
      `"width" in ${file} takes more than 0 and no more than 3000 mm; got 9999.`,
    );
  });

  it("in a row, where the sheet is named by whoever reads it", async () => {
    expect(await wrong(readOptions(prepare, new Map(), undefined, row({ width: "wide" })))).toBe(
      '"width" takes a length such as 80, 80mm, 8cm or 3.15in; got "wide".',
    );
  });

  it("and a name that no command knows is refused, with the nearest one of this command", async () => {
    const file = config({ minute: 10 });
    expect(await wrong(readOptions(plan, new Map(), file))).toBe(
      `Unknown option "minute" in ${file}. Did you mean minutes? Run spotpitch plan --help for the options.`,
    );
  });
});
