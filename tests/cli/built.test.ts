/**
 * Most tests of the command run its source in their own process (`here.ts`). These hold the built command against it: each
 * command once and each exit status, 4 excepted, which only a batch has (`batch/batch.test.ts`).
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { spotpitch, temporaryFolder } from "./command.js";
import { spotpitchHere } from "./here.js";
import { writeSmallPhoto } from "./small-photo.js";

const folder = temporaryFolder();
const photo = folder.in("boat.png");
const out = folder.in("out");
beforeAll(() => writeSmallPhoto(photo));
afterAll(() => folder.remove());

const piece = ["--width", "4", "--method", "bayer-8", "--json", "--out", out];

describe("the built command prints what its source prints, and ends in the same status", () => {
  it.each<[status: number, ...words: string[]]>([
    [0, "--version"],
    [0, "materials"],
    [0, "machine"],
    [0, "prepare", photo, ...piece],
    [0, "plan", photo, ...piece, "--densities", "127"],
    [0, "compare", photo, ...piece, "--density", "127"],
    [0, "power-test", "--density", "254", "--json", "--out", out],
    [0, "card", "--size", "40x30", "--density", "400", "--json", "--out", out],
    [1, "prepare", photo, ...piece, "--out", `${photo}/out`],
    [2, "engrave"],
    [2, "prepare", photo, "--widht", "30"],
    [3, "prepare", folder.in("nowhere.png")],
    [3, "calibrate", photo, "--out", out],
  ])("%i: %s %s", async (status, ...words) => {
    const built = await spotpitch(...words);
    expect(built).toEqual(await spotpitchHere(...words));
    expect(built.status).toBe(status);
  });
});
