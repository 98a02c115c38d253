import { createHash } from "node:crypto";
import { copyFileSync, mkdirSync, readFileSync } from "node:fs";
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { UploadEntry } from "../../../src/batch/entry.js";
import { openLedger } from "../../../src/cli/batch/ledger.js";
import { photographPath } from "../../pipeline/photograph.js";
import { namesIn, temporaryFolder } from "../command.js";
import { entriesIn, runBatch } from "./uploads.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());
const preload = new URL("dying-worker.mjs", import.meta.url).href;
const [uploads, out] = [folder.in("uploads"), folder.in("out")];

const dying = ["crash-1.png", "crash-2.png", "kill-1.png", "kill-2.png", "throw-1.png", "throw-2.png"];
const silent = ["spin-1.png", "wait-1.png", "wait-2.png"];
/** Too large once at its survey or its preparation: with all the memory, alone, it is prepared. */
const large = ["grow-1.png", "grow-2.png"];
const tooLarge = "grow-a.png";
const good = ["anchor.png", "buoy.png", "quay.png", "zander.png"];
/** Short, but enough for those that are prepared. */
const maxSeconds = 8;

let entries: Map<string, UploadEntry>;

beforeAll(async () => {
  mkdirSync(uploads);
  mkdirSync(folder.in("counts"));
  await sharp(photographPath("black-canyon")).resize(160).png().toFile(folder.in("picture.png"));
  for (const name of [...dying, ...silent, ...large, tooLarge, ...good])
    copyFileSync(folder.in("picture.png"), `${uploads}/${name}`);
  const quick = ["--width", "6mm", "--method", "floyd-steinberg", "--bitmap-only"];
  const limits = ["--workers", "2", "--max-seconds", String(maxSeconds), "--memory", "0.9"];
  const ended = await runBatch(
    [uploads, ...quick, ...limits, "--out", out],
    { afterMs: 90_000, signal: "SIGKILL" },
    { NODE_OPTIONS: `--import=${preload}`, COUNTS_IN: folder.in("counts") },
  );
  // Killed, it has waited for ever for a worker.
  expect(ended).toMatchObject({ status: 4, signal: null });
  entries = entriesIn(out);
});

describe("a worker process of a batch", () => {
  it.each(dying)("that dies over %s is told with a code", (name) => {
    expect(entries.get(name)).toMatchObject({
      state: "refused",
      grade: "ask",
      code: "INPUT_TOO_DEMANDING",
      message: expect.stringMatching(/^The worker crashed on "[^"]+": a malicious file, or out of memory\.$/),
      outputs: [],
    });
  });

  it.each(silent)("that never answers over %s is told with a code", (name) => {
    expect(entries.get(name)).toMatchObject({
      state: "refused",
      code: "INPUT_TOO_DEMANDING",
      message: expect.stringMatching(/takes longer than 8 s/),
      outputs: [],
    });
  });

  it("that is too slow over an upload is not tried again in the same time", () => {
    const ledger = openLedger(`${out}/.spotpitch/ledger`);
    const content = createHash("sha256")
      .update(readFileSync(folder.in("picture.png")))
      .digest("hex");
    for (const name of silent)
      expect(ledger.get(name), name).toMatchObject({ contentSha256: content, maxSeconds });
    for (const name of dying) expect(ledger.get(name)?.contentSha256, name).toBe("");
  });

  it("that takes more memory than there is, is ended and told with a code", () => {
    expect(entries.get(tooLarge)).toMatchObject({
      state: "refused",
      code: "INPUT_TOO_DEMANDING",
      message: expect.stringMatching(/needs more memory than --memory allows \(0\.9 GB/),
      outputs: [],
    });
  });

  it.each(large)("that takes more than its share over %s gets all there is, alone", (name) => {
    expect(entries.get(name)).toMatchObject({ state: "prepared" });
  });

  it("does not keep the others from being prepared, and leaves nothing half done", () => {
    for (const name of good) expect(entries.get(name), name).toMatchObject({ state: "prepared" });
    expect(entries.size).toBe(dying.length + silent.length + large.length + 1 + good.length);
    expect(namesIn(`${out}/.spotpitch`)).toEqual(["ledger"]);
  });
});

describe("a batch whose worker processes all end at once", () => {
  it("says so and fails, with its lists written and its folder free", async () => {
    const preload = "data:text/javascript,if (process.send) process.exit(7)";
    const ended = await runBatch([uploads, "--width", "6mm", "--out", folder.in("none")], undefined, {
      NODE_OPTIONS: `--import=${preload.replaceAll(" ", "%20")}`,
    });
    expect(ended).toMatchObject({
      status: 1,
      stderr: expect.stringMatching(/No worker process can be started/),
    });
    expect(entriesIn(folder.in("none")).size).toBe(0);
    expect(namesIn(folder.in("none", ".spotpitch"))).toEqual(["ledger"]);
  });
});
