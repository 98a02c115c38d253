/*
 * Copies of one picture on boards, by the command.
 */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import sharp from "sharp";
import { afterAll, beforeAll, expect, it } from "vitest";
import { photographPath } from "../pipeline/photograph.js";
import { namesIn, temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());
const [photo, out] = [folder.in("boat.png"), folder.in("out")];
beforeAll(() => sharp(photographPath("nagasaki-boats")).resize(120).png().toFile(photo));

/** 10 mm wide at 0.1 mm. */
const prepareWith = (...more: string[]) =>
  spotpitchHere(
    ...["prepare", photo, "--width", "10mm", "--density", "254", "--method", "bayer-4", "--bitmap-only"],
    ...["--no-machine", "--out", out, ...more],
  );

it("lie on as many boards as they need; boards of an earlier run are removed", async () => {
  writeFileSync(folder.in("jig.json"), '{"pockets":[{"leftMm":1,"topMm":2,"widthMm":12,"heightMm":12}]}');
  const three = await prepareWith("--copies", "3", "--jig", folder.in("jig.json"));
  expect(three.status).toBe(0);
  expect(three.stdout).toMatch(/^boards +board-01: 1 piece on 13 × 14 mm/m);
  expect(namesIn(out).filter((name) => name.endsWith(".json"))).toEqual([
    "boat.board-01.json",
    "boat.board-02.json",
    "boat.board-03.json",
    "boat.report.json",
  ]);

  const four = await prepareWith(
    "--copies",
    "4",
    "--board",
    "24x30mm",
    "--board-margin",
    "1mm",
    "--board-gap",
    "2mm",
  );
  expect(four.stdout).toMatch(/^boards +board-01: 4 pieces on 24 × 30 mm.* in one run, .* piece by piece$/m);
  expect(namesIn(out).filter((name) => name.includes("board"))).toEqual([
    "boat.board-01.burn.png",
    "boat.board-01.json",
  ]);
  const { pieces } = JSON.parse(readFileSync(`${out}/boat.board-01.json`, "utf8"));
  expect(pieces.map(({ leftMm }: { leftMm: number }) => leftMm)).toEqual([1, 13, 1, 13]);
  const greys = (name: string) =>
    sharp(`${out}/${name}`).toColourspace("b-w").raw().toBuffer({ resolveWithObject: true });
  const { data, info } = await greys("boat.board-01.burn.png");
  const { data: own } = await greys("boat.burn.png");
  expect([info.width, info.height]).toEqual([240, 300]);
  const last = pieces[3];
  for (let y = 0; y < last.rows; y++) {
    const at = (last.top + y) * info.width + last.left;
    expect(data.subarray(at, at + 100).equals(own.subarray(y * 100, (y + 1) * 100))).toBe(true);
  }

  const none = await prepareWith();
  expect(none.stderr).toMatch(/boat\.board-01\.json: of an earlier run/);
});

it.each([
  [["--copies", "3"], 2, /--copies needs something to lay the copies on: give --board or --jig/],
  [["--jig", "none.json", "--board", "60x40"], 2, /--jig and --board exclude each other/],
  [["--jig", "none.json"], 3, /There is no jig file "none\.json"/],
  [["--board", "9x9mm"], 2, /"boat\.png" measures 10 × .* does not fit/],
])("%j ends with %i", async (options, status, words) => {
  const ran = await prepareWith(...options);
  expect(ran.stderr).toMatch(words);
  expect(ran.status).toBe(status);
  expect(existsSync(`${out}/boat.board-01.burn.png`)).toBe(!options.includes("9x9mm"));
});
