import { appendFileSync, existsSync, readFileSync, writeFileSync } from "node:fs";
import { setTimeout as pause } from "node:timers/promises";
import { afterAll, expect, it } from "vitest";
import type { UploadEntry } from "../../../src/batch/entry.js";
import { temporaryFolder } from "../command.js";
import { makeUploads, runBatch } from "./uploads.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

it("takes uploads as they come, each when its writing has ended, until Ctrl-C", async () => {
  const [uploads, out, source] = [folder.in("uploads"), folder.in("out"), folder.in("source")];
  await makeUploads(uploads, 1);
  await makeUploads(source, 3);
  const listed = (): UploadEntry[] =>
    existsSync(`${out}/batch.json`) ? JSON.parse(readFileSync(`${out}/batch.json`, "utf8")).uploads : [];
  const states = new Set<string>();
  const late = readFileSync(`${source}/quay-2.webp`);
  const until = async (done: () => boolean): Promise<void> => {
    while (!done()) {
      for (const { file, state } of listed()) if (file === "late.webp") states.add(state);
      await pause(50);
    }
  };
  let finished = false;
  const watching = runBatch(
    [uploads, "--watch", "--width", "8mm", "--method", "floyd-steinberg", "--out", out],
    { when: () => finished, signal: "SIGINT" },
  );
  await until(() => listed().length === 3);
  // In four parts, with pauses shorter than what counts as quiet.
  writeFileSync(`${uploads}/late.webp`, "");
  for (let part = 0; part < 4; part++) {
    appendFileSync(
      `${uploads}/late.webp`,
      late.subarray((part * late.length) / 4, ((part + 1) * late.length) / 4),
    );
    await pause(1200);
  }
  await until(() => listed().length === 4);
  expect([...states]).toEqual([]); // never seen half
  expect(listed().find(({ file }) => file === "late.webp")).toMatchObject({ state: "prepared" });
  finished = true;
  const { status, stderr } = await watching;
  expect(status).toBe(0);
  expect(stderr).toBe("Watching for uploads; Ctrl-C ends it.\n");
  expect(existsSync(`${out}/.spotpitch/lock`)).toBe(false);
}, 60_000);
