/*
 * Uploads that a customer takes back or renames: what was made of them must not pass for an open job.
 */
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import sharp from "sharp";
import { afterAll, beforeAll, expect, it } from "vitest";
import { photographPath } from "../../pipeline/photograph.js";
import { temporaryFolder } from "../command.js";
import { entriesIn, runBatch } from "./uploads.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());
const [uploads, out] = [folder.in("uploads"), folder.in("out")];
const board = ["--board", "9x9mm", "--board-gap", "0.5mm", "--board-margin", "0"];
const run = (...inputs: string[]) =>
  runBatch([...inputs, "--width", "4mm", "--method", "bayer-4", "--bitmap-only", "--out", out, ...board]);

/** The uploads on the boards that are there. Each lies there with the bitmap that it has now. */
function onBoards(): string[] {
  const names = readdirSync(`${out}/boards`).filter((name) => name.endsWith(".json"));
  return names.flatMap((name) => {
    const { pieces } = JSON.parse(readFileSync(`${out}/boards/${name}`, "utf8")) as {
      pieces: { name: string; bitmap: string; sha256: string }[];
    };
    for (const { bitmap, sha256 } of pieces) {
      const bytes = readFileSync(join(out, "boards", bitmap));
      expect(createHash("sha256").update(bytes).digest("hex")).toBe(sha256);
    }
    return pieces.map((piece) => piece.name).sort();
  });
}

beforeAll(async () => {
  mkdirSync(uploads);
  const canyon = sharp(photographPath("black-canyon")).resize(160);
  for (const name of ["buoy", "gull", "net"]) await canyon.clone().png().toFile(`${uploads}/${name}.png`);
  const { status, stdout } = await run(uploads);
  expect(status).toBe(0);
  expect(stdout).toMatch(/^board +boards\/board-01-[0-9a-f]{6}\.burn\.png: 3 pieces on 9 × 9 mm/m);
  expect(onBoards()).toEqual(["buoy.png", "gull.png", "net.png"]);
});

it("an upload that is gone is listed, and its files move aside; a file that was changed stays", async () => {
  renameSync(`${uploads}/buoy.png`, `${uploads}/buoy-2.png`);
  rmSync(`${uploads}/net.png`);
  writeFileSync(`${out}/net/net.report.json`, "my own notes");
  const { status, stdout } = await run(uploads);
  expect(status).toBe(0);
  expect(stdout).toMatch(/^uploads +2: 2 prepared, 0 refused; 1 unchanged/m);
  expect(stdout).toMatch(/^withdrawn +buoy\.png: .*set-aside/m);
  const entries = entriesIn(out);
  expect(entries.get("buoy-2.png")?.state).toBe("prepared");
  expect(entries.get("buoy.png")).toMatchObject({
    state: "withdrawn",
    outputs: ["set-aside/buoy/buoy.burn.png", "set-aside/buoy/buoy.report.json"],
  });
  expect(existsSync(`${out}/buoy`)).toBe(false);
  expect(existsSync(`${out}/set-aside/buoy/buoy.burn.png`)).toBe(true);
  expect(readFileSync(`${out}/net/net.report.json`, "utf8")).toBe("my own notes");
  expect(entries.get("net.png")?.outputs).toEqual(["set-aside/net/net.burn.png"]);
  expect(readFileSync(`${out}/index.html`, "utf8")).toContain("Withdrawn");
  expect(onBoards()).toEqual(["buoy-2.png", "gull.png"]);
});

it("it stays listed until somebody deletes its files, and is made anew if it comes back", async () => {
  rmSync(`${out}/set-aside/net`, { recursive: true });
  renameSync(`${uploads}/buoy-2.png`, `${uploads}/buoy.png`);
  await run(uploads);
  const entries = entriesIn(out);
  expect(entries.has("net.png")).toBe(false);
  expect(entries.get("buoy.png")).toMatchObject({
    state: "prepared",
    outputs: ["buoy/buoy.burn.png", "buoy/buoy.report.json"],
  });
  expect(existsSync(`${out}/set-aside/buoy`)).toBe(false);
  expect(entries.get("buoy-2.png")?.state).toBe("withdrawn");
});

it("a second upload of that name that is taken back does not replace what lies there", async () => {
  const kept = `${out}/set-aside/gull/gull.burn.png`;
  mkdirSync(`${out}/set-aside/gull`, { recursive: true });
  writeFileSync(kept, "touched up by hand");
  const gull = readFileSync(`${uploads}/gull.png`);
  rmSync(`${uploads}/gull.png`);
  await run(uploads);
  expect(readFileSync(kept, "utf8")).toBe("touched up by hand");
  expect(entriesIn(out).get("gull.png")?.outputs).toContain("set-aside/2/gull/gull.burn.png");
  writeFileSync(`${uploads}/gull.png`, gull);
  await run(uploads);
});

it("nothing is set aside if the whole folder of uploads has moved", async () => {
  renameSync(uploads, `${uploads}-moved`);
  mkdirSync(folder.in("other"));
  writeFileSync(folder.in("other", "float.png"), readFileSync(`${uploads}-moved/buoy.png`));
  await run(folder.in("other"));
  renameSync(`${uploads}-moved`, uploads);
  expect(existsSync(`${out}/buoy/buoy.burn.png`)).toBe(true);
});

it("an upload that is only not among those of this run keeps its files", async () => {
  await run(`${uploads}/gull.png`);
  expect(existsSync(`${out}/buoy/buoy.burn.png`)).toBe(true);
  expect(entriesIn(out).has("buoy.png")).toBe(false);
});

it("an upload that waits for a row keeps what lies aside, whether it comes back or goes", async () => {
  const sheet = folder.in("jobs.csv");
  writeFileSync(sheet, "file,width\ngull.png,4mm\n");
  const ordered = () =>
    runBatch([uploads, "--sheet", sheet, "--method", "bayer-4", "--bitmap-only", "--out", out]);
  const buoy = () => entriesIn(out).get("buoy.png");
  expect((await ordered()).status).toBe(4);
  const [burn] = buoy()?.outputs ?? [];
  expect(buoy()).toMatchObject({ state: "waiting", code: "NOT_IN_SHEET" });
  expect(burn).toMatch(/^set-aside\/.*buoy\.burn\.png$/);
  await ordered();
  expect(buoy()?.outputs[0]).toBe(burn);
  renameSync(`${uploads}/buoy.png`, folder.in("buoy.png"));
  await ordered();
  expect(buoy()).toMatchObject({ state: "withdrawn", outputs: expect.arrayContaining([burn]) });
  renameSync(folder.in("buoy.png"), `${uploads}/buoy.png`);
  await ordered();
  expect(buoy()).toMatchObject({ state: "waiting", outputs: expect.arrayContaining([burn]) });
  expect(existsSync(`${out}/${burn}`)).toBe(true);
  await run(uploads);
  expect(buoy()).toMatchObject({
    state: "prepared",
    outputs: expect.arrayContaining(["buoy/buoy.burn.png"]),
  });
  expect(existsSync(`${out}/${burn}`)).toBe(false);
});
