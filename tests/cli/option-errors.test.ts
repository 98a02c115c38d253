import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { namesIn, spotpitch, temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";
import { writeSmallPhoto } from "./small-photo.js";

/*
 * What a user reads of a wrong value, whoever found it wrong (the reader of the text, the check of the options, or a list of
 * names) and wherever it was written: the flag by its own name, what it takes, what it got, and never a name of the library.
 */
type Wrong = readonly [flag: string, text: string, takes: string];

const wrong: readonly Wrong[] = [
  ["width", "10 bananas", "a length such as 80, 80mm, 8cm or 3.15in"],
  ["width", "0", "more than 0 and no more than 3000 mm"],
  ["height", "4000", "more than 0 and no more than 3000 mm"],
  ["around", "1..2..3", "a diameter such as 60mm, or a cone's at top and bottom such as 80..60mm"],
  [
    "place",
    "1,2,3",
    "a distance from the rim and an angle from your mark such as 20mm,90deg, or one of them such as 20mm or 90deg",
  ],
  ["place", "20mm,400deg", "0 to 3000 mm from the rim and an angle of -360 to 360 degrees, or one of them"],
  ["wall", "0", "more than 0 and no more than 3000 mm"],
  ["around", "960", "a diameter of 1 to 950 mm, or two for a cone, top and bottom"],
  ["fit", "squeeze", "one of cover, contain, stretch"],
  ["cone", "tilted", "one of flat, level"],
  ["crop", "1,2,3", "left, top, width and height in percent such as 10%,5%,80%,60%, or in pixels"],
  ["focus", "3", "a point in percent such as 40%,30%, or in pixels such as 1200,800"],
  ["vignette", "-1", "more than 0 and no more than 500 mm"],
  ["density", "0", "lines per inch such as 254, lines per mm such as 10/mm, or a pitch such as 0.1mm"],
  ["density", "6000", "20 to 5080 lines per inch"],
  ["spot", "wide", "a 1/e² diameter such as 0.115mm or 115um, along x across such as 0.08x0.15mm"],
  ["spot", "9", "0.005 to 5 mm: one diameter, or one along and one across"],
  ["levels", "2.5", "a whole number from 2 (on and off) to 256"],
  ["scan", "zigzag", "one of serpentine, raster"],
  ["screen-angle", "91", "-90 to 90 degrees"],
  ["clip", "50", "0 to 10 %"],
  ["gamma", "bright", "a number"],
  ["gamma", "0", "0.1 to 10"],
  ["firing-lag", "20000", "0 to 10000 µs"],
  ["firing-lag", "-20us", "0 to 10000 µs"],
  ["firing-loss", "201us", "-200 to 200 µs"],
  ["firing-loss", "-201", "-200 to 200 µs"],
  ["firing-loss", "late", "a time in microseconds such as 30, 30us or 0.03ms"],
  ["dose-spread", "0.1", "percent: write 10% or, if so little was meant, 0.1%"],
  ["seed", "1.5", "a whole number from 0 to 4294967295"],
  ["format", "jpg", "one of png, tiff, bmp"],
];

/** Options that name an entry of a list: the messages for an unknown name and for a forbidden one. */
const named: readonly Wrong[] = [
  ["method", "magic", ""],
  ["material", "unobtainium", ""],
  ["material", "PVC", "must not be processed: PVC is more than half chlorine"],
];

/** Names that only code knows. */
const INSIDE =
  /(width|height|around|vignette|spot)Mm\b|linesPerInch|coneLayout|clipPercent|firing(Lag|Loss)Us|doseSpread|screenAngleDeg|undefined|\bat .*:\d+:\d+/;

const folder = temporaryFolder();
const photo = folder.in("boat.png");
const out = folder.in("out");
beforeAll(() => writeSmallPhoto(photo));
afterAll(() => folder.remove());

const written = (text: string): string => text.replaceAll(/[.*+?^${}()|[\]\\]/g, "\\$&");

/** The flag at the start, the allowed values, and the received value, with or without quotes. */
const sentence = (head: string, text: string, takes: string): RegExp =>
  new RegExp(`^${head} takes ${written(takes)}.*; got .*(?<![\\w.])${written(text)}(?!\\w|\\.\\d).*\\.`);
/** The flag, followed by the unknown name. */
const lookedUp = (head: string, text: string, says: string): RegExp =>
  new RegExp(`^${head}.* "${written(text)}" .*${written(says)}`);

async function refused(words: RegExp, ...args: readonly string[]): Promise<void> {
  const { status, stdout, stderr } = await spotpitchHere("prepare", photo, "--out", out, ...args);
  const [, message = ""] = /^spotpitch: (.*)\n$/.exec(stderr) ?? [];
  expect(message).toMatch(words);
  expect(message).not.toMatch(INSIDE);
  expect([status, stdout, namesIn(out)]).toEqual([2, "", []]);
}

describe("a wrong value on the command line", () => {
  it.concurrent.each(wrong)("--%s %s", (flag, text, takes) =>
    refused(sentence(`--${flag}`, `"${text}"`, takes), `--${flag}`, text),
  );
  it.concurrent.each(named)("--%s %s", (flag, text, says) =>
    refused(new RegExp(`^--${flag} "${text}" .*${written(says)}`), `--${flag}`, text),
  );
});

describe("a wrong value in a config file", () => {
  /** A file that says this; the message may name it, or the flag as on the command line. */
  const config = (name: string, content: object): string[] => {
    writeFileSync(folder.in(name), JSON.stringify(content));
    return ["--config", folder.in(name)];
  };
  const head = (flag: string, name: string): string => `(--${flag}|"${flag}" in \\S*${written(name)})`;

  it.concurrent.each(wrong)("%s: %s", (flag, text, takes) => {
    const name = `${flag}-${text.replaceAll(/\W/g, "-")}.json`;
    return refused(sentence(head(flag, name), text, takes), ...config(name, { [flag]: text }));
  });
  it.concurrent.each(named)("%s: %s", (flag, text, says) => {
    const name = `${flag}-${text}.json`;
    return refused(lookedUp(head(flag, name), text, says), ...config(name, { [flag]: text }));
  });
  it("tells two options that cannot stand together by their flags", () =>
    refused(
      /^(--wall|"wall" in \S+) is for a picture on a part/,
      ...config("both.json", { around: 60, wall: 20 }),
    ));
});

describe("a wrong value in a job sheet", () => {
  const rows = [...wrong, ...named];
  let code: number | null = null;
  let entries: readonly { state: string; code?: string; message?: string; outputs: string[] }[] = [];
  beforeAll(async () => {
    mkdirSync(folder.in("uploads"));
    const file = (row: number): string => `boat-${String(row + 1).padStart(2, "0")}.png`;
    for (const row of rows.keys()) {
      writeFileSync(folder.in("uploads", file(row)), readFileSync(photo));
    }
    const sheet = rows.map(([flag, text], row) => ({ file: file(row), [flag]: text }));
    writeFileSync(folder.in("jobs.json"), JSON.stringify(sheet));
    const made = folder.in("made");
    ({ status: code } = await spotpitch(
      ...["batch", folder.in("uploads"), "--sheet", folder.in("jobs.json"), "--out", made],
    ));
    ({ uploads: entries } = JSON.parse(readFileSync(`${made}/batch.json`, "utf8")));
  });

  it("refuses those uploads, and ends in 4", () => {
    expect(code).toBe(4);
    expect(entries).toHaveLength(rows.length);
  });

  const numbered = rows.map(([flag, text, takes], row) => [row + 1, flag, text, takes] as const);
  it.each(numbered)("row %i, %s: %s", (row, flag, text, takes) => {
    const { state, code: reason, message = "", outputs } = entries[row - 1];
    expect([state, outputs]).toEqual(["refused", []]);
    expect(reason).toMatch(/^OPTION_/);
    const isName = row > wrong.length;
    expect(message).toMatch(
      (isName ? lookedUp : sentence)(`"${flag}"( in row ${row} of \\S+)?`, text, takes),
    );
    // One row, named once or twice.
    expect(message).toMatch(new RegExp(`row ${row} of \\S*jobs\\.json`));
    expect(message).not.toMatch(INSIDE);
  });
});

describe("a wrong value of another command than prepare", () => {
  it.each([
    ["plan", "gain", "600", "0.01 to 5"],
    ["plan", "minutes", "0", "more than 0 and no more than 10000 minutes"],
    ["plan", "densities", "254,5", ""],
    ["plan", "kind", "mow", "one of photo, strip, shade"],
    ["compare", "density", "254,5", "20 to 5080 lines per inch"],
    ["compare", "levels", "2,300", "a whole number from 2 (on and off) to 256"],
    ["batch", "workers", "0", "a whole number from 1 to 64"],
    ["batch", "memory", "0.1", "0.4 to 4096"],
    ["batch", "max-megapixels", "300", "0.01 to 268"],
    ["batch", "max-file-size", "5000", "0.001 to 4000"],
    ["batch", "max-seconds", "0", "1 to 86400"],
    ["batch", "names", "{size}", "a pattern of {folder}, {stem}, {ext}, {material}"],
    ["batch", "width", "0", "more than 0 and no more than 3000 mm"],
  ])("%s --%s %s", async (command, flag, text, takes) => {
    const ran = await spotpitchHere(command, photo, "--out", out, `--${flag}`, text);
    expect(ran.stderr).toMatch(
      new RegExp(`^spotpitch: --${flag} takes ${written(takes)}.*"${written(text)}".*\\.\\n$`),
    );
    expect(ran.stderr).not.toMatch(INSIDE);
    expect([ran.status, ran.stdout, namesIn(out)]).toEqual([2, "", []]);
  });
});
