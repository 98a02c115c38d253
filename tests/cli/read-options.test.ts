import { mkdirSync, symlinkSync, writeFileSync } from "node:fs";
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
function machineFile(content: object): string {
  writeFileSync(folder.in("machine.json"), JSON.stringify(content));
  return folder.in("machine.json");
}
const row = (values: Record<string, unknown>) => ({
  ...{ values, where: "row 2 of jobs.csv" },
  folder: folder.path,
});
const { prepare, plan, compare } = commandOptions;

describe("what wins", () => {
  it("is the command line over the row of a sheet over the config file over the machine file", async () => {
    const file = config({ width: 70, height: 60, spot: 0.1, "no-auto-tone": true });
    const typed = new Map<string, string | boolean>([
      ["height", "50"],
      ["spot", "0.2"],
      ["no-auto-tone", true],
    ]);
    const inSheet = row({ spot: "0.3mm", width: 65, speed: "200" });
    const figures = { speedMmPerS: 100, firingLagUs: 30, spotMm: 0.4 };
    const machine = machineFile({ name: "the shop's", ...figures });
    const { options, givenBy } = await readOptions(prepare, typed, { config: file, machine }, inSheet);
    expect(options).toEqual({
      widthMm: 65,
      heightMm: 50,
      spotMm: { alongMm: 0.2, acrossMm: 0.2 },
      autoTone: true,
      speedMmPerS: 200,
      firingLagUs: 30,
    });
    expect(givenBy).toEqual({
      spotMm: "the command line",
      speedMmPerS: "row 2 of jobs.csv",
      firingLagUs: "the machine file machine.json",
    });
  });
});

describe("a spread that is given in more than one place", () => {
  const options = async (file: object, typed: Record<string, string>, sheet?: Record<string, unknown>) => {
    const inSheet = sheet && row(sheet);
    return (await readOptions(prepare, new Map(Object.entries(typed)), { config: config(file) }, inSheet))
      .options;
  };

  it("keeps the parts of the file that were not typed", async () => {
    const file = { spread: "local=6%,line=5%,local-length=3mm" };
    expect(await options(file, { spread: "local=3%" })).toEqual({
      spread: { local: 0.03, line: 0.05, localLengthMm: 3 },
    });
    expect(await options(file, { spread: "local=3%" }, { spread: "line=1%" })).toEqual({
      spread: { local: 0.03, line: 0.01, localLengthMm: 3 },
    });
    // In the library's own form too.
    expect(await options({ spread: { spot: 0.1 } }, { spread: "local=3%" })).toEqual({
      spread: { spot: 0.1, local: 0.03 },
    });
  });

  it("takes the common part from the later of both forms", async () => {
    expect(await options({ "dose-spread": "10%" }, { spread: "common=5%" })).toEqual({
      spread: { common: 0.05 },
    });
    expect(await options({ spread: "common=5%,line=2%" }, { "dose-spread": "10%" })).toEqual({
      doseSpread: 0.1,
      spread: { line: 0.02 },
    });
    expect(await options({ "dose-spread": "10%" }, { spread: "line=2%" })).toEqual({
      doseSpread: 0.1,
      spread: { line: 0.02 },
    });
    expect(await options({}, { spread: "common=5%" }, { "dose-spread": "10%" })).toEqual({
      spread: { common: 0.05 },
    });
  });

  it("leaves both forms in one place for the check to refuse", async () => {
    expect(await options({}, { "dose-spread": "10%", spread: "common=5%" })).toEqual({
      doseSpread: 0.1,
      spread: { common: 0.05 },
    });
  });
});

describe("options of other commands in a config file", () => {
  it("are left out, with one note that names them", async () => {
    const file = config({ width: 60, minutes: 10, tones: "12@0.25mm", names: "{stem}" });
    const { options, notes } = await readOptions(prepare, new Map(), { config: file });
    expect(options).toEqual({ widthMm: 60 });
    expect(notes).toEqual([
      `"minutes", "tones" and "names" in ${file} are options of other commands: prepare ignores them.`,
    ]);
    const alone = config({ minutes: 10 });
    expect((await readOptions(compare, new Map(), { config: alone })).notes).toEqual([
      `"minutes" in ${alone} is an option of other commands: compare ignores it.`,
    ]);
    expect((await readOptions(plan, new Map(), { config: alone })).notes).toEqual([]);
  });
});

describe("files of one run in a config file", () => {
  it("are refused, with the words to type", async () => {
    const file = config({ sheet: "jobs.csv", width: 60 });
    await expect(readOptions(commandOptions.batch, new Map(), { config: file })).rejects.toMatchObject({
      code: "OPTION_INVALID",
      message: `"sheet" cannot stand in ${file}: it belongs to one run. Remove it there, and type it: spotpitch batch --sheet jobs.csv.`,
    });
    const again = config({ recursive: true });
    await expect(readOptions(commandOptions.batch, new Map(), { config: again })).rejects.toThrow(
      /batch --recursive\.$/,
    );
  });

  it("are ignored by other commands, and the output folder is taken", async () => {
    const file = config({ sheet: "jobs.csv", out: "engraved" });
    const { notes, out } = await readOptions(prepare, new Map(), { config: file });
    expect(out).toBe("engraved");
    expect(notes).toEqual([`"sheet" in ${file} is an option of other commands: prepare ignores it.`]);
  });
});

describe("the units of what was given", () => {
  const units = async (file: object, typed: Record<string, string>) =>
    (await readOptions(prepare, new Map(Object.entries(typed)), { config: config(file) })).units;

  it("are inches if every size was given in inches", async () => {
    expect(await units({}, {})).toEqual({ length: "mm", speed: "mm/s", acceleration: "mm/s²" });
    expect(await units({ height: "3in" }, { width: "4in" })).toMatchObject({ length: "in" });
    expect(await units({ height: "80mm" }, { width: "4in" })).toMatchObject({ length: "mm" });
    expect(await units({ width: "80mm" }, { width: "4in" })).toMatchObject({ length: "in" });
    expect(await units({ width: "4in" }, { width: "80" })).toMatchObject({ length: "mm" });
    expect(await units({ around: "3in" }, {})).toMatchObject({ length: "in" });
    expect(await units({ border: "0.1in" }, {})).toMatchObject({ length: "mm" });
  });

  it("are those of speed and acceleration as written", async () => {
    expect(await units({ speed: "6000mm/min" }, { accel: "100in/s2" })).toEqual({
      ...{ length: "mm", speed: "mm/min", acceleration: "in/s²" },
    });
    expect(await units({ speed: "6000mm/min" }, { speed: "100" })).toMatchObject({ speed: "mm/s" });
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
    expect(await wrong(readOptions(prepare, new Map(), { config: file }))).toBe(
      `"width" in ${file} takes more than 0 and no more than 3000 mm; got 9999.`,
    );
  });

  it("in a row, where the sheet is named by whoever reads it", async () => {
    expect(await wrong(readOptions(prepare, new Map(), undefined, row({ width: "wide" })))).toBe(
      '"width" takes a length such as 80, 80mm, 8cm or 3.15in; got "wide".',
    );
  });

  it("and a name of the trade is answered with ours", async () => {
    const file = config({ dpi: 300, width: 60 });
    expect(await wrong(readOptions(prepare, new Map(), { config: file }))).toMatch(
      /^Unknown option "dpi" in \S+\. Use "density": "300"\. Run spotpitch prepare --help/,
    );
    expect(await wrong(readOptions(prepare, new Map(), { config: config({ widthMm: 60 }) }))).toMatch(
      /Use "width": "60"\./,
    );
  });

  it("and a name that no command knows is refused, with the nearest one of this command", async () => {
    const file = config({ minute: 10 });
    expect(await wrong(readOptions(plan, new Map(), { config: file }))).toBe(
      `Unknown option "minute" in ${file}. Did you mean minutes? Run spotpitch plan --help for the options.`,
    );
  });
});

it.each([
  ["UTF-8 with its mark", Buffer.from('\ufeff{"width": 60}', "utf8")],
  ["UTF-16, as some shells write it", Buffer.from('\ufeff{"width": 60}', "utf16le")],
  ["UTF-16 the other way round", Buffer.from('\ufeff{"width": 60}', "utf16le").swap16()],
])("a config file may be %s", async (_, bytes) => {
  writeFileSync(folder.in("marked.json"), bytes);
  const { options } = await readOptions(prepare, new Map(), { config: folder.in("marked.json") });
  expect(options).toEqual({ widthMm: 60 });
});

describe("a file that a row of a sheet names", () => {
  const shop = { folder: folder.in("sheets"), where: "row 2 of jobs.csv" };
  const look = { bareColor: "#e3c9a0", markedColor: "#3a2415", source: "made up" };
  const material = {
    name: "walnut",
    response: [
      [0, 0.6],
      [1, 0.1],
    ],
    ...look,
  };
  const asked = (values: Record<string, string>) =>
    readOptions(prepare, new Map(), undefined, { ...shop, values });

  it("lies in the folder of the sheet, wherever the command runs", async () => {
    mkdirSync(folder.in("sheets", "woods"), { recursive: true });
    writeFileSync(folder.in("sheets", "woods", "walnut.json"), JSON.stringify(material));
    const { options } = await asked({ material: "woods/walnut.json" });
    expect(options).toMatchObject({ material: { name: "walnut" } });
    expect((await asked({ material: "maple" })).options).toEqual({ material: "maple" });
  });

  it("is not opened elsewhere, and nothing of its content is told", async () => {
    writeFileSync(folder.in("secret.json"), "password: herring");
    symlinkSync(folder.path, folder.in("sheets", "up"));
    symlinkSync(folder.in("secret.json"), folder.in("sheets", "mine.json"));
    for (const file of ["../secret.json", folder.in("secret.json"), "up/secret.json", "mine.json"]) {
      for (const option of ["material", "mask"]) {
        await expect(asked({ [option]: file }), file).rejects.toMatchObject({
          code: "INPUT_SHEET_INVALID",
          message: expect.not.stringContaining("herring"),
        });
      }
    }
    await expect(asked({ material: "none.json" })).rejects.toMatchObject({ code: "INPUT_MISSING" });
  });
});
