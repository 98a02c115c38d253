import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { seededRandom } from "../../../src/core/random.js";
import { mountSmallDisk, NO_SMALL_DISK, type SmallDisk } from "../../support/small-disk.js";
import { namesIn, temporaryFolder } from "../command.js";
import { makeUploads, runBatch, treeOf } from "./uploads.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

const uploads = folder.in("uploads");
const options = ["--width", "8mm", "--method", "floyd-steinberg", "--workers", "2", "--board", "20x20mm"];
const into = (name: string): string[] => [uploads, ...options, "--out", folder.in(name)];
/** More of them: `KILLS=28 npx vitest run tests/cli/batch/faults.test.ts`. */
const KILLS = Number(process.env.KILLS ?? 2);
/** Somebody approves at the desk while the batch is at work. */
const approval = JSON.stringify([
  {
    file: "quay-1.png",
    pieceSha256: "0".repeat(64),
    verdict: "approved",
    note: "",
    by: "Ada",
    at: "2026-01-01T00:00:00.000Z",
  },
]);
let undisturbed: Record<string, string> = {};
/** Duration of one undisturbed run. */
let wholeMs = 0;

beforeAll(async () => {
  await makeUploads(uploads, 4);
  const start = performance.now();
  expect(await runBatch(into("undisturbed"))).toMatchObject({ status: 4, stderr: "" });
  wholeMs = performance.now() - start;
  undisturbed = treeOf(folder.in("undisturbed"));
});

describe("a batch that is killed", () => {
  it("ends in the same bytes when run again, whenever it was killed", async () => {
    const random = seededRandom(7);
    let killed = 0;
    for (let i = 0; i < KILLS; i++) {
      const out = `killed-${i}`;
      // One kill in each part of the run, so that every phase is tested.
      const afterMs = ((i + random()) / KILLS) * wholeMs;
      mkdirSync(folder.in(out, "decisions"), { recursive: true });
      writeFileSync(folder.in(out, "decisions", "ada.json"), approval);
      const { signal } = await runBatch(into(out), { afterMs, signal: "SIGKILL" });
      if (signal === "SIGKILL") killed++;
      expect((await runBatch(into(out))).status).toBe(4);
      expect(readFileSync(folder.in(out, "decisions", "ada.json"), "utf8")).toBe(approval);
      rmSync(folder.in(out, "decisions"), { recursive: true });
      expect(treeOf(folder.in(out)), `run ${i}`).toEqual(undisturbed);
      rmSync(folder.in(out), { recursive: true });
    }
    // The last may come too late.
    expect(killed).toBeGreaterThanOrEqual(KILLS / 2);
  }, 300_000);

  let tries = 0;

  // On a busy machine the signal may come after the end of the work. Each try has a folder of its own.
  it("stops cleanly at Ctrl-C, keeps what is finished, and goes on", { retry: 2 }, async () => {
    const stopped = `stopped-${++tries}`;
    const ledger = folder.in(stopped, ".spotpitch", "ledger");
    const finished = (): number =>
      existsSync(ledger) ? namesIn(ledger).filter((name) => name.endsWith(".json")).length : 0;
    // The two unusable uploads are found first. Then one is prepared.
    const { status, stderr } = await runBatch(into(stopped), {
      when: () => finished() > 2,
      signal: "SIGINT",
    });
    expect([status, stderr]).toEqual([130, expect.stringMatching(/same command to continue\.\n$/)]);
    expect(namesIn(folder.in(stopped, ".spotpitch"))).toEqual(["ledger"]);
    expect(finished()).toBeGreaterThan(2);
    expect(finished()).toBeLessThan(6);
    expect((await runBatch(into(stopped))).status).toBe(4);
    expect(treeOf(folder.in(stopped))).toEqual(undisturbed);
  });
});

describe("a second run", () => {
  it("mends what has been damaged, and redoes only what has changed", async () => {
    const out = folder.in("again");
    cpSync(folder.in("undisturbed"), out, { recursive: true });
    writeFileSync(`${out}/quay-1/quay-1.burn.png`, "");
    const { stdout } = await runBatch(into("again"));
    expect(stdout).toMatch(/; 5 unchanged since an earlier run\n/);
    expect(treeOf(out)).toEqual(undisturbed);
    const sheet = folder.in("jobs.csv");
    writeFileSync(sheet, "file,width,format\nquay-2.webp,9mm,bmp\n");
    const second = await runBatch([...into("again"), "--sheet", sheet, "--unlisted", "prepare"]);
    expect(second.stdout).toMatch(/; 5 unchanged since an earlier run\n/);
    expect(namesIn(`${out}/quay-2`)).toEqual(
      ["burn.bmp", "preview.png", "report.html", "report.json"].map((ending) => `quay-2.${ending}`),
    );
  });

  it("refuses to work beside another in the same folder", async () => {
    mkdirSync(folder.in("busy", ".spotpitch"), { recursive: true });
    writeFileSync(folder.in("busy", ".spotpitch", "lock"), String(process.pid));
    const { status, stderr } = await runBatch(into("busy"));
    expect([status, stderr]).toEqual([1, expect.stringMatching(/Another run .* delete/)]);
  });
});

describe("a full disk", () => {
  let disk: SmallDisk | undefined;
  beforeAll(() => {
    disk = mountSmallDisk(folder.in("disk"), 160);
  });
  afterAll(() => disk?.remove());

  it("ends the run with a clear error and leaves no half file", async ({ skip }) => {
    if (!disk) return skip(NO_SMALL_DISK);
    const out = `${disk.path}/out`;
    const { status, stderr } = await runBatch([uploads, ...options, "--out", out]);
    expect([status, stderr]).toEqual([
      1,
      expect.stringMatching(/disk\/out": the disk is full\. Finished files stay/),
    ]);
    const lists = ["batch.json", "batch.csv", "index.html"];
    const tree = Object.entries(treeOf(out)).filter(([, hash]) => hash !== "not a file");
    for (const [name, hash] of tree) if (!lists.includes(name)) expect(undisturbed[name], name).toBe(hash);
    // The lists tell what is finished, and how much is not.
    const { uploads: listed, remaining } = JSON.parse(readFileSync(`${out}/batch.json`, "utf8"));
    expect(remaining).toBeGreaterThan(0);
    expect(listed.length + remaining).toBe(readdirSync(uploads).length);
  });
});
