import { copyFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { photographPath } from "../../pipeline/photograph.js";
import { namesIn, temporaryFolder } from "../command.js";
import { spotpitchHere } from "../here.js";
import { entriesIn, runBatch, treeOf } from "./uploads.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());
const uploads = folder.in("uploads");
const logo = fileURLToPath(new URL("../../../sample-images/logo.svg", import.meta.url));
const quick = ["--width", "8mm", "--method", "floyd-steinberg"];

/** A batch that ends before it starts any process. */
const refused = (args: readonly string[]) => spotpitchHere("batch", ...args);

beforeAll(async () => {
  mkdirSync(`${uploads}/nets`, { recursive: true });
  const boats = sharp(photographPath("nagasaki-boats")).resize(300);
  await boats.clone().jpeg().toFile(`${uploads}/boat.jpg`);
  await boats.clone().negate().png().toFile(`${uploads}/boat.png`);
  await boats.clone().flip().webp().toFile(`${uploads}/nets/BOAT.webp`);
  copyFileSync(logo, `${uploads}/logo.svg`);
});

describe("an upload", () => {
  it.each([
    [
      "boat.jpg",
      ["--crop", "10%,10%,60%,70%", "--width", "9mm", "--oval", "--border", "0.4mm", "--bitmap-only"],
    ],
    ["boat.png", ["--around", "6mm", "--height", "5mm", "--levels", "4", "--method", "bayer-8"]],
    ["logo.svg", ["--width", "9mm", "--mirror", "--format", "tiff"]],
  ])("becomes the same files as with prepare: %s %j", async (file, options) => {
    const prepared = folder.in("prepared", options.join(" "));
    const batched = folder.in("batched", options.join(" "));
    expect((await spotpitchHere("prepare", `${uploads}/${file}`, ...options, "--out", prepared)).stderr).toBe(
      "",
    );
    const names = ["--names", "{stem}"];
    expect(await runBatch([`${uploads}/${file}`, ...options, ...names, "--out", batched])).toMatchObject({
      status: 0,
      stderr: "",
    });
    const { outputs = [] } = entriesIn(batched).get(file) ?? {};
    expect([...outputs].sort()).toEqual(namesIn(prepared));
    for (const name of outputs) {
      expect(readFileSync(`${batched}/${name}`).equals(readFileSync(`${prepared}/${name}`)), name).toBe(true);
    }
  });
});

describe("a job sheet", () => {
  it("gives each upload its own options and note, and refuses what it gets wrong for that one alone", async () => {
    const sheet = `${uploads}/jobs.csv`;
    writeFileSync(
      sheet,
      "file,width,material,density,note\nboat.jpg,9mm,slate,,for Ada\nboat.png,-9mm,,,\nBOAT.webp,8,,254,\nlogo.svg,9mm,granit,,\nlost.jpg,9mm,,,call first\n",
    );
    writeFileSync(folder.in("shop.json"), JSON.stringify({ width: "12mm", material: "maple" }));
    const out = folder.in("sheet");
    const { status, stderr } = await runBatch([
      ...[uploads, "--recursive", "--method", "floyd-steinberg", "--density", "300"],
      ...["--config", folder.in("shop.json"), "--sheet", sheet, "--out", out],
    ]);
    expect([status, stderr]).toEqual([
      4,
      expect.stringMatching(
        /^spotpitch: --density on the command line wins .* its "density" in 1 row has no effect\./,
      ),
    ]);
    const entries = entriesIn(out);
    expect([...entries.keys()]).toEqual(["boat.jpg", "boat.png", "logo.svg", "lost.jpg", "nets/BOAT.webp"]);
    expect(entries.get("boat.jpg")).toMatchObject({ note: "for Ada", figures: { material: "slate" } });
    expect(entries.get("boat.jpg")?.figures?.widthMm).toBeCloseTo(9, 0);
    expect(entries.get("boat.png")).toMatchObject({
      code: "OPTION_INVALID",
      message: expect.stringMatching(/^"width" takes more than 0 .* got "-9mm"\. \(row 3 of/),
    });
    expect(entries.get("nets/BOAT.webp")?.figures?.linesPerInch).toBeCloseTo(300, 0);
    expect(entries.get("logo.svg")).toMatchObject({ code: "OPTION_MATERIAL_UNKNOWN", outputs: [] });
    expect(entries.get("logo.svg")?.message).toMatch(/row 5 of/);
    expect(entries.get("lost.jpg")).toMatchObject({ code: "INPUT_MISSING", note: "call first" });
  });
});

describe("names of outputs", () => {
  it("never meet, flat and case aside, and stay when other uploads come", async () => {
    const out = folder.in("flat");
    // Of two that differ in case alone, beside three that share their name in any case.
    copyFileSync(`${uploads}/nets/BOAT.webp`, `${uploads}/nets/LOGO.webp`);
    await runBatch([uploads, "--recursive", ...quick, "--names", "{stem}", "--bitmap-only", "--out", out]);
    const outputs = [...entriesIn(out).values()].flatMap((entry) => entry.outputs);
    expect(new Set(outputs.map((path) => path.toLowerCase())).size).toBe(outputs.length);
    expect(outputs.every((path) => !path.includes("/"))).toBe(true);
    const before = treeOf(out);
    copyFileSync(`${uploads}/boat.jpg`, `${uploads}/quay.jpg`);
    await runBatch([uploads, "--recursive", ...quick, "--names", "{stem}", "--bitmap-only", "--out", out]);
    const after = treeOf(out);
    for (const path of outputs) expect(after[path], path).toBe(before[path]);
  });

  it("are refused where a pattern leads out or tells nothing apart", async () => {
    for (const pattern of ["../{stem}", "/tmp/{stem}", "{folder}", "{stem}-{date}"]) {
      const { status, stderr } = await refused([uploads, "--names", pattern, "--out", folder.in("none")]);
      expect([status, stderr]).toEqual([2, expect.stringMatching(/--names takes a pattern/)]);
    }
    expect(namesIn(folder.in("none"))).toEqual([]);
  });
});

describe("inputs", () => {
  it("may be globs and lists", async () => {
    const list = folder.in("list.txt");
    writeFileSync(list, "uploads/logo.svg\n\nuploads/nets/BOAT.webp\n");
    const out = folder.in("listed");
    await runBatch([`${uploads}/*.png`, "--list", list, ...quick, "--bitmap-only", "--out", out]);
    expect([...entriesIn(out).keys()]).toEqual(["BOAT.webp", "boat.png", "logo.svg"]);
  });

  it("that are not there end with status 3, none at all and a wrong option with 2", async () => {
    expect(await refused([folder.in("nowhere")])).toMatchObject({
      status: 3,
      stderr: expect.stringMatching(/nowhere/),
    });
    expect(await refused([`${uploads}/*.bmp`, "--out", folder.in("none")])).toMatchObject({
      status: 3,
      stderr: expect.stringMatching(/No file matches .*\*\.bmp/),
    });
    const empty = folder.in("empty");
    mkdirSync(`${empty}/below`, { recursive: true });
    expect(await refused([empty, "--out", folder.in("none")])).toMatchObject({
      status: 3,
      stderr: `spotpitch: There is no file in "${empty}". To look into folders of the folders too, give --recursive.\n`,
    });
    expect(await refused([empty, "--recursive", "--out", folder.in("none")])).toMatchObject({
      status: 3,
      stderr: `spotpitch: There is no file in "${empty}".\n`,
    });
    const headOnly = folder.in("head-only.csv");
    writeFileSync(headOnly, "file,width\n");
    expect(await refused([uploads, "--sheet", headOnly, "--out", folder.in("none")])).toMatchObject({
      status: 3,
      stderr: expect.stringMatching(/head-only\.csv names no file/),
    });
    expect(existsSync(folder.in("none"))).toBe(false);
    expect((await refused([])).status).toBe(2);
    expect(await refused([uploads, "--density", "many"])).toMatchObject({
      status: 2,
      stderr: expect.stringMatching(/--density/),
    });
  });
});

describe("what the finished piece shows", () => {
  it("reaches the lists: nothing to engrave is asked about, shades lost are a note, warnings are told", async () => {
    const [pictures, out] = [folder.in("plain"), folder.in("plain-out")];
    mkdirSync(pictures);
    const create = { width: 300, height: 200, channels: 3, background: "#fff" } as const;
    await sharp({ create }).png().toFile(`${pictures}/white.png`);
    copyFileSync(`${uploads}/boat.jpg`, `${pictures}/boat.jpg`);
    await runBatch([pictures, "--kind", "solid", "--width", "12mm", "--out", out]);
    const entries = entriesIn(out);
    expect(entries.get("white.png")).toMatchObject({
      state: "prepared",
      grade: "ask",
      code: "NOTHING_BURNS",
    });
    expect(entries.get("boat.jpg")?.findings.map(({ code }) => code)).toContain("SHADES_LOST");
    const codes = entries.get("white.png")?.warnings?.map(({ code }) => code);
    expect(codes).toContain("nothing-burns");
    expect(codes?.join()).not.toMatch(/material-/);
    expect(readFileSync(`${out}/batch.csv`, "utf8")).toMatch(/nothing-burns/);
    expect(readFileSync(`${out}/index.html`, "utf8")).toMatch(/"warnings":\["/);
  });
});

describe("a row that asks for what cannot be", () => {
  it("takes away what an earlier run made of it, which would pass for the answer", async () => {
    const [sheet, out] = [folder.in("rows.csv"), folder.in("rows-out")];
    const run = (width: string) => {
      writeFileSync(sheet, `file,width\nboat.jpg,${width}\n`);
      return runBatch([`${uploads}/boat.jpg`, ...quick, "--sheet", sheet, "--out", out]);
    };
    expect((await run("9mm")).status).toBe(0);
    expect(namesIn(`${out}/boat`)).toHaveLength(4);
    expect((await run("sixty")).status).toBe(4);
    expect(namesIn(`${out}/boat`)).toEqual([]);
    expect((await run("9mm")).status).toBe(0);
    expect(namesIn(`${out}/boat`)).toHaveLength(4);
  });
});

it("a method that there is not stops the batch before any work, with a hint", async () => {
  const ended = await refused([uploads, "--method", "floyd", "--out", folder.in("no-method")]);
  expect(ended.status).toBe(2);
  expect(ended.stderr).toMatch(/floyd-steinberg/);
  expect(namesIn(folder.in("no-method"))).toEqual([]);
});
