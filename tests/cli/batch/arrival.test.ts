import { mkdirSync, utimesSync, writeFileSync } from "node:fs";
import { afterAll, describe, expect, it } from "vitest";
import { arrivingEntry, refusedEntry } from "../../../src/batch/entry.js";
import { defaultLimits } from "../../../src/batch/limits.js";
import { verdictOf } from "../../../src/batch/lists.js";
import type { Refusal } from "../../../src/batch/outcome.js";
import { bindRows, fromSheetOf } from "../../../src/cli/batch/bind-rows.js";
import type { Upload } from "../../../src/cli/batch/inputs.js";
import type { Job } from "../../../src/cli/batch/jobs.js";
import { openLedger } from "../../../src/cli/batch/ledger.js";
import { createSettle } from "../../../src/cli/batch/output-folder.js";
import { type PassContext, runPass } from "../../../src/cli/batch/pass.js";
import { createQuietTimes, stillArriving } from "../../../src/cli/batch/watch.js";
import { METRIC } from "../../../src/core/shown-units.js";
import { resolveOptions } from "../../../src/options/options.js";
import { temporaryFolder } from "../command.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

describe("the quiet time of an upload", () => {
  /** An upload, and what becomes of it at seconds of a made clock. */
  function watching(name: string) {
    const path = folder.in(name);
    writeFileSync(path, "");
    const upload: Upload = { id: name, path };
    let nowMs = 0;
    const quiet = createQuietTimes(() => nowMs);
    return {
      ...{ path, upload, quiet },
      async at(seconds: number) {
        nowMs = 1000 * seconds;
        await quiet.look([path]);
        return quiet.asArrived(upload).map(({ arrival }) => arrival ?? "complete");
      },
      wait: (arrival: "assumed" | "paused", isIncomplete: boolean) =>
        quiet.wait([{ ...upload, arrival }], isIncomplete ? [path] : []),
    };
  }

  it("is 3 s, and grows fourfold as long as the file may be incomplete; after 192 s it is judged as it is", async () => {
    const { at, wait } = watching("cut.jpg");
    expect(await at(0)).toEqual([]);
    expect(await at(2.9)).toEqual([]);
    for (const [until, seconds] of [
      [3, 12],
      [12, 48],
      [48, 192],
    ]) {
      expect(await at(until)).toEqual(["assumed"]);
      wait("assumed", true);
      expect(await at(until)).toEqual(["paused"]);
      // A pass for the sake of others leaves it alone, and its time does not grow.
      wait("paused", true);
      expect(await at(seconds - 0.1)).toEqual(["paused"]);
    }
    expect(await at(192)).toEqual(["complete"]);
  });

  it("begins anew with each change, and is short again once the file was whole", async () => {
    const { at, wait, path } = watching("slow.jpg");
    await at(0);
    await at(3);
    wait("assumed", true);
    writeFileSync(path, "more");
    expect(await at(10)).toEqual(["paused"]);
    expect(await at(21.9)).toEqual(["paused"]);
    expect(await at(22)).toEqual(["assumed"]);
    wait("assumed", false);
    writeFileSync(path, "another version");
    expect(await at(30)).toEqual([]);
    expect(await at(33)).toEqual(["assumed"]);
  });

  it("is no matter for a file that was complete long before", async () => {
    const { at, path } = watching("old.jpg");
    utimesSync(path, 1e9, 1e9);
    await at(0);
    expect(await at(3)).toEqual(["complete"]);
  });

  it("makes no pass due while something is added to a paused file", async () => {
    const { at, wait, path, upload, quiet } = watching("growing.jpg");
    const state = () => quiet.stateOf(quiet.asArrived(upload), []);
    await at(0);
    await at(3);
    wait("assumed", true);
    const before = state();
    writeFileSync(path, "more");
    await at(5);
    expect(state()).toBe(before);
    await at(20);
    expect(state()).not.toBe(before);
  });
});

describe("an upload that may be incomplete", () => {
  /** What a pass tells of an upload that a worker refuses, and what it asked the worker for. */
  async function told(arrival: Upload["arrival"], code: Refusal["refused"]["code"]) {
    const out = folder.in(`out ${arrival} ${code}`);
    mkdirSync(out);
    const path = folder.in("boat.jpg");
    writeFileSync(path, "half of it");
    const upload: Upload = { id: "boat.jpg", path, ...(arrival && { arrival }) };
    const options = { widthMm: 20 };
    const job: Job = {
      ...{
        upload,
        options,
        resolved: resolveOptions(options),
        asGiven: { units: METRIC },
        output: "boat/boat",
      },
      ...{ jobSha256: "1", copies: 1, fromSheet: { note: "for Friday" } },
    };
    const ledger = openLedger(`${out}/ledger`);
    const asked: string[] = [];
    const never = () => Promise.reject(new Error("not asked for"));
    const withdrawBoards = () => Promise.resolve();
    const settle = createSettle(out, ledger, withdrawBoards);
    const context: PassContext = {
      ...{
        out,
        work: `${out}/work`,
        ledger,
        settle,
        withdrawBoards,
        onProgress: () => {},
        onVerdict: () => {},
      },
      pool: {
        survey: async () => {
          asked.push("survey");
          return { refused: { code, message: "A fault." }, contentSha256: "2" };
        },
        ...{ prepare: never, hash: never, close: never },
        room: { workers: 1, jobBytes: 1e9 },
      },
      settings: {
        ...{
          pattern: "{stem}",
          unlisted: "wait",
          workers: 1,
          memoryBytes: 1e9,
          jobBytes: 1e9,
          limits: defaultLimits,
        },
        copies: 1,
      },
    };
    const [{ entry }] = await runPass({ jobs: [job], unfit: [], waiting: [] }, context);
    return { state: entry.state, code: entry.code, note: entry.note, asked };
  }

  it("is still arriving, and not damaged", async () => {
    const arriving = { state: "waiting", code: "STILL_ARRIVING", note: "for Friday" };
    for (const code of ["INPUT_DAMAGED", "INPUT_EMPTY", "INPUT_CHANGING"] as const)
      expect(await told("assumed", code)).toEqual({ ...arriving, asked: ["survey"] });
    expect(await told("paused", "INPUT_DAMAGED")).toEqual({ ...arriving, asked: [] });
  });

  it("is judged as it is once it is complete, or where more of it would not help", async () => {
    expect(await told(undefined, "INPUT_DAMAGED")).toMatchObject({ state: "refused", code: "INPUT_DAMAGED" });
    expect(await told("assumed", "INPUT_TOO_LARGE")).toMatchObject({ code: "INPUT_TOO_LARGE" });
  });

  it("is looked at again, also if it has pieces with names", () => {
    const uploads = ["boat.jpg", "gull.jpg", "net.jpg"].map((id) => ({ id, path: `/uploads/${id}` }));
    const rows = ["small", "large"].map((name) => ({
      file: "boat.jpg",
      name,
      where: name,
      folder: "/",
      values: {},
    }));
    const { pieces } = bindRows(uploads, rows, "prepare");
    const verdicts = pieces.map(({ upload: { id }, file, row }) => {
      const entry = file === "net.jpg" ? refusedEntry(id, "INPUT_EMPTY", "empty") : arrivingEntry(id, []);
      return verdictOf({ entry }, fromSheetOf(file, row));
    });
    expect(verdicts.map(({ entry }) => entry.file)).toContain("boat.jpg [small]");
    expect(stillArriving(uploads, verdicts)).toEqual(["/uploads/boat.jpg", "/uploads/gull.jpg"]);
  });
});
