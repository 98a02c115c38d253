import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { crc32 } from "../../src/6-report/files/crc32.js";
import { pngFile } from "../1-photo/make-file.js";
import { temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";

const folder = temporaryFolder();
const photo = folder.in("boat.jpg");
/** This folder is never made: a refused run leaves nothing behind. */
const out = folder.in("out");

const material = {
  name: "pale board",
  response: [
    [0, 0.6],
    [0.5, 0.3],
    [1, 0.1],
  ],
  bareColor: "#e3c9a0",
  markedColor: "#3a2415",
  source: "made up",
};

beforeAll(async () => {
  const noise = { type: "gaussian", mean: 128, sigma: 30 } as const;
  const jpeg = await sharp({ create: { width: 64, height: 48, channels: 3, background: "grey", noise } })
    .jpeg()
    .toBuffer();
  writeFileSync(photo, jpeg);
  writeFileSync(folder.in("truncated.jpg"), jpeg.subarray(0, jpeg.length >> 1));
  writeFileSync(folder.in("empty.jpg"), "");
  writeFileSync(folder.in("letter.jpg"), "Dear workshop, please engrave my boat.\n");
  const declared = pngFile({ type: "grey", bits: 8, columns: 1, rows: 1, samples: [0] });
  declared.writeUInt32BE(30000, 16);
  declared.writeUInt32BE(30000, 20);
  writeFileSync(folder.in("declares.png"), withHeaderSum(declared));
  mkdirSync(folder.in("folder.jpg"));
  const json = (name: string, content: unknown) =>
    writeFileSync(folder.in(name), typeof content === "string" ? content : JSON.stringify(content));
  json("not.json", "name: pale board\nresponse: none\n");
  json("list.json", [1, 2]);
  json("falling.json", { ...material, response: [...material.response.slice(0, 2), [0.4, 0.2]] });
  json("turning.json", { ...material, response: [...material.response.slice(0, 2), [1, 0.4]] });
  json("short-row.json", { ...material, response: [[0, 0.6], [0.5]] });
  json("no-source.json", { ...material, source: undefined });
  json("colour.json", { ...material, bareColor: "brown" });
  json("field.json", { ...material, colour: "brown" });
  json("vinyl.json", { ...material, name: "white vinyl sheet" });
  json("unknown-key.json", { widht: 30 });
  json("switch.json", { mirror: "yes" });
  json("object.json", { width: { mm: 30 } });
  json("null.json", { method: null });
  json("bananas.json", { width: "10 bananas" });
});
afterAll(() => folder.remove());

/** The checksum of IHDR is corrected, so that only the declared size is wrong. */
function withHeaderSum(png: Buffer): Buffer {
  png.writeUInt32BE(crc32(png.subarray(12, 29)), 29);
  return png;
}

/** Words of the library, its parts and the decoder that mean nothing to a user. */
const INSIDE =
  /(width|height|spot|Shift|Distance)Mm\b|linesPerInch|Too (big|small)|\bexpected\b|Invalid|undefined|\bat .*:\d+:\d+|zod|vips|node:/;

async function refused(args: readonly string[], status: number, words: RegExp): Promise<void> {
  const ran = await spotpitchHere(...args);
  expect(ran.stderr).toMatch(words);
  expect(ran.status).toBe(status);
  expect(ran.stdout).toBe("");
  expect(ran.stderr).toMatch(/^spotpitch: \S.*\.\n$/);
  expect(ran.stderr).not.toMatch(INSIDE);
}

const prepareWith = (...args: readonly string[]) => ["prepare", photo, "--out", out, ...args];

describe("bad usage ends in one line on stderr and status 2", () => {
  it.concurrent.each<[string, string[], RegExp]>([
    ["an unknown command", ["engrave"], /unknown command 'engrave'/],
    ["no photo", ["prepare"], /missing required argument 'photo'/],
    ["two photos", ["prepare", photo, photo], /prepare takes one photo, .* use spotpitch batch/],
    ["an unknown option", prepareWith("--frobnicate"), /'--frobnicate'/],
    ["a misspelt option, with the right one", prepareWith("--widht", "30"), /Did you mean --width\?/],
    ["an option without its value", ["prepare", photo, "--width"], /--width <length>/],
    ["an argument too many", ["methods", "all"], /'methods'/],
    ["a value behind a switch", prepareWith("--mirror", "no"), /--mirror is a switch.* write --no-mirror/],
    ["a value tied to a switch", prepareWith("--no-auto-tone=yes"), /is a switch.* write --auto-tone/],
  ])("%s", (_, args, words) => refused(args, 2, words));

  it("no arguments: the help, on stderr", async () => {
    const { status, stdout, stderr } = await spotpitchHere();
    expect(status).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toMatch(/^Usage: spotpitch/);
  });
});

describe("a bad option is named as typed, with what it takes, and status 2", () => {
  const density = /^spotpitch: --density takes .*lines per inch.*; got "/;
  it.concurrent.each<[string, string, RegExp]>([
    ["--density", "0", density],
    ["--density", "-5", density],
    ["--density", "abc", density],
    ["--density", "", density],
    ["--density", "1e9", /20 to 5080 lines per inch; got "1e9"/],
    ["--density", "0.1in", /20 to 5080 lines per inch; got "0.1in"/],
    ["--density-along", "10", /--density-along takes 20 to 5080 lines per inch/],
    ["--spot", "0", /--spot takes .*0\.115mm.*got "0"/],
    ["--spot", "0.1 furlong", /--spot takes .*got "0.1 furlong"/],
    ["--spot", "9", /--spot takes 0\.005 to 5 mm.*got "9"/],
    ["--spot", "7mm fwhm", /--spot takes 0\.005 to 5 mm.*got "7mm fwhm"/],
    ["--width", "10 bananas", /--width takes a length such as .*got "10 bananas"/],
    ["--width", "0", /--width takes more than 0 and no more than 3000 mm; got "0"/],
    ["--height", "5m", /--height takes a length/],
    ["--fit", "squeeze", /--fit takes one of cover, contain, stretch; got "squeeze"/],
    ["--levels", "1", /--levels takes a whole number from 2 \(on and off\) to 256; got "1"/],
    ["--levels", "2.5", /--levels takes a whole number .*got "2\.5"/],
    ["--levels", "257", /--levels takes a whole number .*got "257"/],
    ["--kind", "drawing", /--kind takes one of auto, photo, solid; got "drawing"/],
    ["--format", "jpg", /--format takes one of png, tiff, bmp; got "jpg"/],
    ["--tone-map", "film", /lightness, luminance; got "film"/],
    ["--seed", "1.5", /--seed takes a whole number/],
    ["--dose-spread", "90", /--dose-spread takes 0 to 30 %; got "90"/],
    ["--clip", "50%", /--clip takes 0 to 10 %; got "50%"/],
    ["--brightness", "-200", /--brightness takes -100 to 100; got "-200"/],
    ["--view-distance", "1cm", /50 to 10000 mm; got "1cm"/],
    ["--line-shift", "-9", /-1 to 1 mm/],
    ["--speed", "0", /more than 0 and no more than 20000 mm\/s/],
    [
      "--spread",
      "lokal=3%",
      /--spread has no part "lokal"\. Did you mean local\? Its parts are common, local/,
    ],
    ["--spread", "local=30%", /--spread takes 0 to 25 % for the part local; got local=30%/],
    ["--spread", "local=", /--spread names the part local without a value\. Write local=4%/],
    ["--spread", "local=3%,local=4%", /--spread gives the part local twice/],
    ["--screen-angle", "45grad", /--screen-angle takes an angle such as 45, 45deg or 45°; got "45grad"/],
    ["--screen-angle", "100deg", /--screen-angle takes -90 to 90 degrees; got "100deg"/],
    ["--dose-spread", "0.1", /--dose-spread takes percent: write 10% or.* 0\.1%; got "0\.1"/],
    ["--method", "magic", /--method "magic" is not a halftone method\. "spotpitch methods" lists them/],
    ["--method", "flyod-steinberg", /Did you mean floyd-steinberg\?/],
    ["--material", "mapel", /Did you mean maple\?/],
    ["--material", "wood", /Did you mean maple, beech, lime or cherry\?/],
    ["--method", "stevenson-arce", /--method stevenson-arce needs .*--density-along to about 7\d\d/],
    [
      "--material",
      "unobtainium",
      /--material "unobtainium" is not a preset\. "spotpitch materials" lists them; a material file/,
    ],
    ["--material", "PVC", /--material "PVC" must not be processed: .*chlor/],
    ["--material", "black vinyl", /must not be processed: .*PVC.*Hydrogen chloride/],
  ])("%s %j", async (option, value, words) => {
    await refused(prepareWith(option, value), 2, words);
    expect(existsSync(out)).toBe(false);
  });

  it.concurrent.each<[string, string[], RegExp]>([
    [
      "a piece too large",
      ["--width", "3000mm", "--density", "5080"],
      /600000 × 450000 pixels, which exceeds the 400 million/,
    ],
    [
      "a halftone for a solid piece",
      ["--kind", "solid", "--method", "bayer-4"],
      /--method is for photos: a solid piece has no halftone\. .*--kind photo.*--method threshold /,
    ],
    ["a wrong fit", ["--width", "30", "--height", "30", "--fit", "crop"], /--fit takes/],
    [
      "a material file of something forbidden",
      ["--material", folder.in("vinyl.json")],
      /must not be processed/,
    ],
    [
      "a bad value in a config file",
      ["--config", folder.in("bananas.json")],
      /"width" in .*bananas\.json takes a length/,
    ],
    [
      "an unknown key in a config file",
      ["--config", folder.in("unknown-key.json")],
      /Unknown option "widht" in .*unknown-key\.json\. Did you mean width\? Run spotpitch prepare --help for the options\./,
    ],
    [
      "a switch with a text in a config file",
      ["--config", folder.in("switch.json")],
      /"mirror" in .*switch\.json takes true or false/,
    ],
    [
      "an object in a config file",
      ["--config", folder.in("object.json")],
      /"width" in .*object\.json takes a number or a text/,
    ],
    [
      "nothing in a config file",
      ["--config", folder.in("null.json")],
      /"method" in .*null\.json takes a number or a text/,
    ],
  ])("%s", async (_, args, words) => {
    await refused(prepareWith(...args), 2, words);
    expect(existsSync(out)).toBe(false);
  });
});

describe("a bad input file is named, and ends in status 3", () => {
  it.concurrent.each([
    ["nothing.jpg", /There is no photo ".*nothing\.jpg"/],
    ["folder.jpg", /folder\.jpg" is a folder/],
    ["letter.jpg", /"letter\.jpg" is not a picture/],
    ["truncated.jpg", /"truncated\.jpg" starts as a JPEG picture, but is damaged/],
    ["empty.jpg", /"empty\.jpg" is empty/],
    ["declares.png", /"declares\.png" declares 30000 × 30000 pixels.*Allowed/],
  ])("photo %s", async (name, words) => {
    await refused(["prepare", folder.in(name), "--out", out], 3, words);
    expect(existsSync(out)).toBe(false);
  });

  it.concurrent.each([
    ["nothing.json", /no material file ".*nothing\.json"/],
    ["not.json", /material file ".*not\.json" cannot be used: it is not JSON/],
    ["list.json", /list\.json" cannot be used: it must be one object/],
    ["falling.json", /falling\.json" cannot be used: response row 3, \[0\.4, 0\.2\]: doses must rise/],
    ["turning.json", /turning\.json" cannot be used: response row 3.*all fall or all rise/],
    ["short-row.json", /response row 2 must be \[dose, luminance factor\]/],
    ["no-source.json", /source is missing/],
    ["colour.json", /bareColor must be a colour such as #e3c9a0; it is 'brown'/],
    ["field.json", /no field "colour"; the fields are name, response/],
  ])("material file %s", async (name, words) => {
    await refused(prepareWith("--material", folder.in(name)), 3, words);
    expect(existsSync(out)).toBe(false);
  });

  it.concurrent.each([
    ["nothing.json", /no config file ".*nothing\.json"/],
    ["not.json", /config file ".*not\.json" cannot be used: it is not JSON/],
    ["list.json", /list\.json" cannot be used: it must hold one JSON object/],
  ])("config file %s", async (name, words) => {
    await refused(prepareWith("--config", folder.in(name)), 3, words);
    expect(existsSync(out)).toBe(false);
  });
});

describe("a folder that cannot be written to ends in status 1", () => {
  it("below a file", async () => {
    const inTheWay = folder.in("boat.jpg", "out");
    await refused(
      ["prepare", photo, "--out", inTheWay],
      1,
      /Cannot write to .*a file of that name is in the way/,
    );
  });

  it.runIf(process.platform === "linux")("below /proc, where Node's own recursive mkdir never returns", () =>
    refused(
      ["prepare", photo, "--out", "/proc/spotpitch/out"],
      1,
      /Cannot write to "\/proc\/spotpitch\/out"/,
    ),
  );
});

describe("a folder without a batch, and words that are none", () => {
  it.each([
    ["desk", "folder.jpg", 3, /^spotpitch: There is no batch in /],
    ["desk", "nowhere", 3, /^spotpitch: There is no batch in /],
    ["words", "not.json", 3, /^spotpitch: The words file .* cannot be used: it is not JSON/],
    ["words", "list.json", 3, /^spotpitch: The words file .* cannot be used/],
  ])("%s %s ends with status %d", async (command, name, status, message) => {
    if (command === "desk" && name === "folder.jpg") writeFileSync(folder.in(name, "batch.json"), "{}");
    const ended = await spotpitchHere(command, folder.in(name));
    expect(ended).toMatchObject({ status, stdout: "", stderr: expect.stringMatching(message) });
    expect(ended.stderr.trimEnd().split("\n")).toHaveLength(1);
  });
});
