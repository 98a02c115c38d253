import {
  appendFileSync,
  closeSync,
  existsSync,
  openSync,
  readFileSync,
  writeFileSync,
  writeSync,
} from "node:fs";
import { setTimeout as pause } from "node:timers/promises";
import { afterAll, expect, it } from "vitest";
import type { UploadEntry } from "../../../src/batch/entry.js";
import { temporaryFolder } from "../command.js";
import { entriesIn, makeUploads, runBatch } from "./uploads.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

/** Parts of an upload that takes longer to write than a file must be quiet for; the pause between two is shorter. */
const PARTS = 4;
const PAUSE_MS = 1200;

/** Write a file bit by bit: at its end, or into room that was made for the whole of it. */
async function writeSlowly(path: string, bytes: Uint8Array, inPlace: boolean): Promise<void> {
  writeFileSync(path, inPlace ? new Uint8Array(bytes.length) : "");
  const bounds = Array.from({ length: PARTS + 1 }, (_, i) => Math.round((i * bytes.length) / PARTS));
  for (let part = 0; part < PARTS; part++) {
    await pause(PAUSE_MS);
    const piece = bytes.subarray(bounds[part], bounds[part + 1]);
    if (!inPlace) {
      appendFileSync(path, piece);
      continue;
    }
    const file = openSync(path, "r+");
    writeSync(file, piece, 0, piece.length, bounds[part]);
    closeSync(file);
  }
}

/** What `--json` has printed: the list of the uploads, once for each time that they were taken. */
const passesIn = (stdout: string): UploadEntry[][] =>
  stdout
    .split(/(?<=^\})\n/m)
    .filter((text) => text.trim() !== "")
    .map((text) => JSON.parse(text).uploads);

it("takes uploads once each, when their writing has ended and never before, until Ctrl-C", async () => {
  const [uploads, out, source] = [folder.in("uploads"), folder.in("out"), folder.in("source")];
  await makeUploads(uploads, 1);
  await makeUploads(source, 3);
  const isListed = (name: string): boolean => existsSync(`${out}/batch.json`) && entriesIn(out).has(name);
  const until = async (done: () => boolean): Promise<void> => {
    while (!done()) await pause(50);
  };
  let finished = false;
  const watching = runBatch(
    [uploads, "--watch", "--json", "--width", "8mm", "--method", "floyd-steinberg", "--out", out],
    { when: () => finished, signal: "SIGINT" },
  );
  await until(() => isListed("quay-0.jpeg"));
  await Promise.all([
    writeSlowly(`${uploads}/late.webp`, readFileSync(`${source}/quay-2.webp`), false),
    writeSlowly(`${uploads}/late.png`, readFileSync(`${source}/quay-1.png`), true),
  ]);
  await until(() => isListed("late.webp") && isListed("late.png"));
  finished = true;
  const { status, stdout, stderr } = await watching;

  const passes = passesIn(stdout);
  const early = ["empty.jpg", "letter.jpg", "quay-0.jpeg"];
  expect(passes[0].map(({ file }) => file)).toEqual(early);
  // Only complete uploads were prepared: no pass saw a part of one.
  for (const name of ["late.webp", "late.png"]) {
    const seen = passes.flatMap((entries) => entries.filter(({ file }) => file === name));
    const faults = seen.map(({ state, findings }) => [
      state,
      findings.some(({ code }) => code === "DAMAGED"),
    ]);
    expect(faults).toEqual(seen.map(() => ["prepared", false]));
  }
  // Both end within one interval, so they may be found in the same pass or in two.
  expect(passes.length).toBeGreaterThan(1);
  expect(passes.length).toBeLessThanOrEqual(3);
  expect(passes.at(-1)?.map(({ file }) => file)).toEqual([
    "empty.jpg",
    "late.png",
    "late.webp",
    ...early.slice(1),
  ]);
  expect(status).toBe(0);
  expect(stderr).toBe("Watching for uploads; Ctrl-C ends it.\n");
  expect(existsSync(`${out}/.spotpitch/lock`)).toBe(false);
}, 60_000);

it("reads a job sheet anew when it changes; uploads without a row wait for one", async () => {
  const [uploads, out, sheet] = [folder.in("ordered"), folder.in("ordered-out"), folder.in("jobs.csv")];
  await makeUploads(uploads, 2);
  writeFileSync(sheet, "file,width\nQUAY-0.jpeg,8mm\n");
  const entry = (name: string): UploadEntry | undefined =>
    existsSync(`${out}/batch.json`) ? entriesIn(out).get(name) : undefined;
  const until = async (done: () => boolean): Promise<void> => {
    while (!done()) await pause(50);
  };
  let finished = false;
  const watching = runBatch(
    [uploads, "--watch", "--sheet", sheet, "--method", "bayer-4", "--bitmap-only", "--out", out],
    { when: () => finished, signal: "SIGINT" },
  );
  await until(() => entry("quay-0.jpeg") !== undefined);
  expect(entry("quay-0.jpeg")).toMatchObject({
    state: "prepared",
    figures: { widthMm: expect.closeTo(8, 1) },
  });
  expect(entry("quay-1.png")).toMatchObject({ state: "waiting", code: "NOT_IN_SHEET", outputs: [] });
  expect(readFileSync(`${out}/index.html`, "utf8")).toContain("NOT_IN_SHEET");
  // Half of a sheet, as an editor that is interrupted leaves it.
  writeFileSync(sheet, 'file,width\n"quay-0');
  await pause(5000);
  expect(entry("quay-0.jpeg")?.figures?.widthMm).toBeCloseTo(8, 1);
  // Two rows for one upload: nobody knows which counts.
  writeFileSync(sheet, "file,width\nquay-0.jpeg,9mm\nQUAY-0.JPEG,7mm\n");
  await until(() => entry("quay-0.jpeg")?.state === "refused");
  expect(entry("quay-0.jpeg")?.message).toMatch(/row 2 .* and row 3 .* ask for "quay-0\.jpeg"/);
  writeFileSync(sheet, "file,width\nquay-0.jpeg,9mm\nquay-1.png,10mm\n");
  await until(() => entry("quay-1.png")?.state === "prepared");
  expect(entry("quay-0.jpeg")?.figures?.widthMm).toBeCloseTo(9, 1);
  expect(entry("quay-1.png")?.figures?.widthMm).toBeCloseTo(10, 1);
  finished = true;
  const { status, stderr } = await watching;
  expect(status).toBe(0);
  expect(stderr).toMatch(/job sheet cannot be read now.*its last readable state counts/);
}, 60_000);
