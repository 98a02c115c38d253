import { describe, expect, it } from "vitest";
import { commandWords } from "../../src/cli/commands.js";
import { commandOptions, flagNamed } from "../../src/cli/flags.js";
import { answerTo, meanings } from "../../src/cli/other-names.js";
import { usageMessage } from "../../src/cli/usage-message.js";

/** What the command says to an option that it does not have. */
function said(line: string): string {
  const words = line.split(" ");
  const option = words.find((word) => /^-/.test(word));
  return usageMessage(`error: unknown option '${option}'`, words);
}

describe("an option by another name", () => {
  it.each([
    ["prepare boat.jpg --dpi 300", "--density 300"],
    ["prepare boat.jpg --dpi=300dpi", "--density 300"],
    ["prepare boat.jpg --DPI 300", "--density 300"],
    ["prepare boat.jpg --resolution 300x300", "--density 300"],
    ["prepare boat.jpg --resolution fine", "--density <lines>"],
    ["prepare boat.jpg --ppi", "--density <lines>"],
    ["plan boat.jpg --dpi 300", "--densities 300"],
    ["plan boat.jpg --density 300", "--densities 300"],
    ["prepare boat.jpg --interval 0.1", "--density 0.1mm"],
    ["prepare boat.jpg --line_spacing 100um", "--density 100um"],
    ["prepare boat.jpg --lines-per-mm 10", "--density 10/mm"],
    ["prepare boat.jpg --size 60x40mm", "--width 60mm --height 40mm"],
    ["prepare boat.jpg --size 60mmx2in", "--width 60mm --height 2in"],
    ["prepare boat.jpg --size 8cm", "--width 8cm"],
    ["prepare boat.jpg --size large", "--width <length> --height <length>"],
    ["prepare boat.jpg -o made", "--out made"],
    ["prepare boat.jpg --output made.png", "--out <dir>"],
    ["compare boat.jpg --dither stucki", "--method stucki"],
    ["prepare boat.jpg --bits 8", "--levels 256"], // 2⁸
    ["prepare boat.jpg --bits 16", "--levels <n>"], // 2¹⁶ is over the limit of 256
    ["prepare boat.jpg --dpi 90000", "--density <lines>"],
    ["prepare boat.jpg --greyscale", "--levels 256"],
    ["prepare boat.jpg --flip", "--mirror"],
    ["prepare boat.jpg --speed-mm-s 5", "--speed 5mm/s"],
    ["prepare boat.jpg --Width 80", "--width 80"],
    ["prepare boat.jpg --widthMm 80", "--width 80"],
    ["batch uploads --csv jobs.csv", "--sheet jobs.csv"],
  ])("%s: %s", (line, instead) => {
    const [command] = line.split(" ");
    const option = / (-\S+?)(=|\s|$)/.exec(line)?.[1];
    expect(said(line)).toBe(`${option} is not an option of ${command}. Use ${instead}.`);
  });

  it("that is often wished for in error is told first that nothing needs it", () => {
    expect(said("prepare --invert boat.jpg")).toMatch(
      /Nothing needs to be inverted: black in the bitmap burns.* Only for a dark drawing .*: use --negative\.$/,
    );
  });

  it("that no option grants is told what to do, and one of another command where it is", () => {
    expect(said("prepare boat.jpg --rotate 90")).toMatch(/Turn the photo in a picture program/);
    expect(said("prepare boat.jpg --inches")).toMatch(/Write the unit after each number/);
    expect(said("prepare boat.jpg --minutes 5")).toBe(
      "--minutes is not an option of prepare. It is an option of plan.",
    );
  });

  it("that says nothing to us keeps the parser's own suggestion", () => {
    const words = ["prepare", "boat.jpg", "--widht", "80"];
    expect(usageMessage("error: unknown option '--widht'\n(Did you mean --width?)", words)).toBe(
      "unknown option '--widht' (Did you mean --width?). Run --help for the options.",
    );
  });
});

describe("the table of other names", () => {
  const commands = Object.values(commandOptions);
  const isFlag = (name: string) =>
    commands.some(({ flags }) => flagNamed(flags, name)) ||
    Object.values(commandWords).some(({ files }) => files.some(([usage]) => usage.startsWith(`--${name}`)));

  const entries = meanings.map(([names, ...means]) => ({ names, means }));
  it.each(entries)("$names lead to flags that there are", ({ names, means }) => {
    const flags = means.flatMap((meaning) => meaning("1").map(([flag]) => flag));
    expect(flags.filter((flag) => !isFlag(flag))).toEqual([]);
    for (const name of names.split(" ")) {
      const missing = commands.filter(({ flags: own }) => !flagNamed(own, name));
      const answers = missing.map((command) => answerTo(command.name, name, "1", () => "it"));
      expect(answers, name).toContainEqual(expect.stringMatching(/(^U|: u)se it\.$/));
    }
  });

  it("names nothing twice", () => {
    const names = meanings.flatMap(([each]) => each.split(" "));
    expect(names.filter((name, i) => names.indexOf(name) !== i)).toEqual([]);
  });
});

describe("other slips of a command line", () => {
  const many = "error: too many arguments for 'prepare'. Expected 1 argument but got 2.";
  it.each([
    [many, ["prepare", "a/boat.jpg", "b/boat.jpg"], /^prepare takes one photo, .* use spotpitch batch\./],
    [many, ["power-test", "boat.jpg"], /^power-test takes no photo, only options\. /],
    [many, ["prepare", "boat.jpg", "–width", "80"], /^–width starts with a long dash.* Type --width\.$/],
    [
      "error: unknown option '-width'",
      ["prepare", "-width", "80"],
      /^-width starts with one dash.*--width\.$/,
    ],
    ["error: unknown command 'boat.jpg'", ["boat.jpg"], /no command\. Type: spotpitch prepare boat\.jpg\.$/],
    [many, ["prepare", "boat.jpg", "--mirror", "no"], /^--mirror is a switch .* write --no-mirror/],
  ])("%s %j", (text, words, message) => {
    expect(usageMessage(text, words)).toMatch(message);
  });
});
