import { writeFileSync } from "node:fs";
import sharp from "sharp";
import { afterAll, beforeAll, expect, it } from "vitest";
import { namesIn, temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());
const [blank, text, out] = [folder.in("blank.png"), folder.in("letter.jpg"), folder.in("learnt")];

beforeAll(async () => {
  await sharp({ create: { width: 400, height: 300, channels: 3, background: "#ccc" } })
    .png()
    .toFile(blank);
  writeFileSync(text, "Dear harbour workshop");
});

// A card that can be read is tried in tests/pipeline/calibrate.test.ts.
it.concurrent.each<[string, string[], number, RegExp]>([
  [
    "no card in the picture",
    [blank],
    3,
    /^spotpitch: The code of a test card cannot be read in "blank\.png".*even light.*\n$/,
  ],
  ["no picture", [text], 3, /^spotpitch: "letter\.jpg".*\n$/],
  ["no file", [folder.in("lost.jpg")], 3, /^spotpitch: There is no picture ".*lost\.jpg"\.\n$/],
  [
    "a recipe that is none",
    [blank, "--card", text],
    3,
    /^spotpitch: The recipe of a card ".*letter\.jpg" cannot be used: it is not JSON.*\n$/,
  ],
  [
    "a wrong luminance",
    [blank, "--bare", "7"],
    2,
    /^spotpitch: --bare takes a luminance factor, above 0 and no more than 1: 0\.62; got "7"\.\n$/,
  ],
  [
    "a name that leads elsewhere",
    [blank, "--name", "../mine"],
    2,
    /^spotpitch: --name takes a name for the files.*\n$/,
  ],
  [
    "a check without what should come out",
    [blank, "--check"],
    2,
    /^spotpitch: --check needs the card\.json .* Give it with --card\.\n$/,
  ],
  ["nothing at all", [], 2, /^spotpitch: .*pictures.*\n$/],
])("%s is refused in one sentence, and nothing is written", async (_, args, code, words) => {
  const { status, stdout, stderr } = await spotpitchHere("calibrate", ...args, "--out", out);
  expect([status, stdout, stderr]).toEqual([code, "", expect.stringMatching(words)]);
  expect(namesIn(out)).toEqual([]);
});
