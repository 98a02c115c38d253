import { readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { afterAll, describe, expect, it } from "vitest";
import type { CardRecipe, TestCard } from "../../src/index.js";
import { namesIn, temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

const PHOTO = fileURLToPath(new URL("../../sample-images/step-wedge.png", import.meta.url));
const FILES = ["card.burn.png", "card.html", "card.json", "card.preview.png"];

describe("card", () => {
  it("writes bitmap, preview, recipe and page, and prints what to do", async () => {
    const out = folder.in("made");
    const { status, stdout, stderr } = await spotpitchHere(
      ...[
        "card",
        "--material",
        "slate",
        "--spot",
        "0.1mm",
        "--density",
        "508",
        "--speed",
        "200",
        "--out",
        out,
      ],
    );
    expect([status, stderr]).toEqual([0, ""]);
    expect(namesIn(out)).toEqual(FILES);
    expect(stdout.match(/^step \d/gm)).toHaveLength(6);
    expect(stdout).toMatch(/^holds +403 patches: 83 patterns, each 4 times or more, 22 bare and 22 solid$/m);
    expect(stdout).toContain('"spotpitch power-test --density 508"');
    expect(stdout).toMatch(/^Cautions:\n( {2}- .*\n)+$/m);
    const { width, height, density, depth, channels } = await sharp(`${out}/card.burn.png`).metadata();
    expect([width, height, density, channels]).toEqual([1600, 1200, 508, 1]);
    expect(depth).toBe("uchar");
    const recipe = JSON.parse(readFileSync(`${out}/card.json`, "utf8")) as CardRecipe;
    expect([recipe.code, recipe.patches.length]).toEqual(["SPOTPITCH1 W80 H60 D508 L2 S1 V200", 403]);
  });

  it("takes the config file of a job, and prints what is on it as JSON", async () => {
    const config = folder.in("shop.json");
    writeFileSync(
      config,
      JSON.stringify({ size: "40x30", width: "80mm", material: "slate", density: 400, seed: 7 }),
    );
    const { stdout, stderr } = await spotpitchHere(
      ...["card", "--config", config, "--json", "--out", folder.in("configured")],
    );
    expect(stderr).toMatch(/"width" in .*shop\.json is an option of other commands/);
    const { job, contents, groups } = JSON.parse(stdout) as TestCard;
    expect(job).toMatchObject({ material: "slate", marksGrow: "lighter", seed: 7, isSpeedGiven: false });
    expect(contents.code).toBe("SPOTPITCH1 W40 H30 D400 L2 S7");
    expect(groups[0].patterns[0]).toMatchObject({ number: 1, name: "lines-1-of-2", tile: ["1", "0"] });
  });

  it("makes a check card with a photo, and says what does nothing on it", async () => {
    const out = folder.in("checked");
    const machine = folder.in("mine.machine.json");
    writeFileSync(machine, JSON.stringify({ name: "mine", spotMm: 0.12, linesPerInchOffered: [127, 200] }));
    const { status, stdout, stderr } = await spotpitchHere(
      ...["card", "--check", PHOTO, "--machine", machine, "--method", "bayer-8"],
      ...["--size", "50x40", "--seed", "3", "--dose", "1.5", "--out", out],
    );
    const idle = ["--dose", "--seed"].map((flag) => `spotpitch: ${flag} has no effect with --check.\n`);
    expect([status, stderr]).toEqual([0, idle.join("")]);
    expect(namesIn(out)).toEqual(FILES);
    expect(stdout).toMatch(/^check card +50\.04 × 40\.01 mm on maple, 200 lines per inch, bayer-8$/m);
    expect(stdout).toMatch(/^note +Nobody measured maple .* "spotpitch card --material maple"/m);
    expect(stdout).toMatch(/^note +The picture is step-wedge\.png/m);
    expect(stdout).toContain(`calibrate --check your-picture.jpg --card ${out}/card.json --out ${out}`);
    const recipe = JSON.parse(readFileSync(`${out}/card.json`, "utf8"));
    expect(recipe.steps).toHaveLength(14);
  });

  it("says that an option is for check cards alone", async () => {
    const { stderr } = await spotpitchHere(
      // Too small, so that nothing is made.
      ...["card", "--method", "bayer-8", "--size", "25x25", "--out", folder.in("idle")],
    );
    expect(stderr).toMatch(/^spotpitch: --method has no effect on a test card: it is for --check\.\n/);
  });

  it("speaks in the units of the user", async () => {
    const { stdout } = await spotpitchHere(
      ...["card", "--size", "3x2.5in", "--speed", "12in/s", "--density", "400", "--out", folder.in("inches")],
    );
    expect(stdout).toMatch(/^card +3 × 2\.5 in on maple/m);
    expect(stdout).toContain("400 lines per inch and 12 in/s");
  });

  it.each([
    ["too small a card", ["--size", "25x25"], /^spotpitch: --size leaves too little room /],
    ["a side alone", ["--size", "80"], /^spotpitch: --size takes a width and a height such as 80x60mm/],
    [
      "too few lines",
      ["--density", "150", "--spot", "0.2mm"],
      /--density is too coarse .* Give 204 lines per inch/,
    ],
    ["an option of other commands", ["--width", "80mm"], /--width is not an option of card/],
    ["a photo", ["boat.jpg"], /card takes no photo/],
  ])("refuses %s in one line, and writes nothing", async (_, words, message) => {
    const out = folder.in("refused");
    const { status, stdout, stderr } = await spotpitchHere("card", ...words, "--out", out);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(message);
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
    expect(namesIn(out)).toEqual([]);
  });
});
