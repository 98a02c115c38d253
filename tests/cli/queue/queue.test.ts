import { existsSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { setTimeout as pause } from "node:timers/promises";
import { Queue } from "bullmq";
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from "vitest";
import { sha256 } from "../../../src/batch/sha256.js";
import { jobFor, keyOf } from "../../../src/cli/queue/job.js";
import { openLine } from "../../../src/cli/queue/line.js";
import { PREFIX, ROSTER } from "../../../src/cli/queue/names.js";
import { lookAtQueue } from "../../../src/cli/queue/show.js";
import { inputName, madeName, resultName } from "../../../src/cli/queue/store.js";
import { startRedis, type TestServer } from "../../support/redis-server.js";
import { hasTool } from "../../support/tool.js";
import { temporaryFolder } from "../command.js";
import { BYTES, engrave, openWorkshop } from "./made-workshop.js";

/*
 * Batches and workers in this process, over a Redis server of their own. What a worker makes of an upload is known beforehand: its bytes
 * backwards. Processes that are killed: `processes.test.ts`.
 */
describe.skipIf(!hasTool("redis-server"))("a queue", () => {
  const folder = temporaryFolder();
  let server: TestServer;
  let shop: ReturnType<typeof openWorkshop>;
  beforeAll(async () => {
    server = await startRedis();
    shop = openWorkshop(server, folder);
  });
  afterEach(() => shop.close());
  afterAll(async () => {
    await server?.remove();
    folder.remove();
  });
  const madeOf = (name: string): string => readFileSync(folder.in("made", name, `${name}.burn.png`), "utf8");
  const leftInStore = (): string[] =>
    ["inputs", "results"].flatMap((each) =>
      existsSync(folder.in("store", each)) ? readdirSync(folder.in("store", each)) : [],
    );

  it("brings uploads to a worker and files back, and leaves nothing in the store", async () => {
    await shop.worker(engrave, 2);
    const { prepare } = await shop.batch();
    const mask = { bytes: Buffer.from("a mask"), fileName: "keep.png" };
    const tasks = [
      shop.task("boat.jpg", "a boat"),
      shop.task("crane.jpg", "a crane", { widthMm: 9, mask }),
      shop.task("copy.jpg", "a boat"),
    ];
    const results = await Promise.all(tasks.map((task) => prepare(task, BYTES)));
    expect(results).toEqual(results.map(() => expect.objectContaining({ thumbnail: "AAAA" })));
    expect(madeOf("boat")).toBe('taob a{"widthMm":8}');
    expect(madeOf("copy")).toBe('taob a{"widthMm":8}');
    const { mask: came } = JSON.parse(madeOf("crane").replace("enarc a", ""));
    expect([Object.values(came.bytes), came.fileName]).toEqual([[...mask.bytes], "keep.png"]);
    expect(leftInStore()).toEqual([]);
  });

  it("keeps an upload in the store as long as a job of the batch needs it", async () => {
    await shop.worker(async (...task) => {
      await pause(200);
      return engrave(...task);
    });
    const { prepare } = await shop.batch();
    // Three pieces of one photo, one after the other.
    const tasks = ["bow", "stern", "deck"].map((name) => shop.task(`${name}.jpg`, "a ship"));
    await Promise.all(tasks.map((task) => prepare(task, BYTES)));
    expect(shop.notes.join()).not.toContain("not in the store");
    expect(leftInStore()).toEqual([]);
  });

  it("does not do again what is in the store, whoever asks", async () => {
    const prepare = vi.fn(engrave);
    await shop.worker(prepare);
    const { store, release } = await shop.meeting();
    const task = shop.task("pier.jpg", "a pier");
    const { key, job } = jobFor(task, BYTES, release);
    const done = {
      refused: { code: "INPUT_DAMAGED", message: "It is damaged." },
      contentSha256: sha256("a pier"),
    };
    await store.put(resultName(key), Buffer.from(JSON.stringify(done)));
    // Handed out twice by the queue, and asked for by a batch that was killed before.
    const queue = new Queue((await shop.meeting()).queue, {
      connection: { url: server.url },
      prefix: PREFIX,
    });
    await queue.add("prepare", job, { jobId: key });
    await vi.waitFor(async () => expect(await queue.getJobCountByTypes("completed")).toBe(1));
    await queue.obliterate();
    await queue.close();
    expect(await (await shop.batch()).prepare(task, BYTES)).toEqual(done);
    expect(prepare).not.toHaveBeenCalled();
  });

  it("tries a fault again that may pass, and bad input never", async () => {
    const prepare = vi.fn(engrave);
    prepare.mockRejectedValueOnce(new Error("the disk is full"));
    prepare.mockResolvedValueOnce({ refused: { code: "INPUT_DAMAGED", message: "It is damaged." } });
    await shop.worker(prepare);
    const batch = await shop.batch();
    const refused = await batch.prepare(shop.task("mole.jpg", "a mole"), BYTES);
    expect(refused).toEqual({ refused: { code: "INPUT_DAMAGED", message: "It is damaged." } });
    expect(prepare).toHaveBeenCalledTimes(2);
    expect(shop.notes.join()).toContain("the disk is full");
  });

  it("tries an upload that ends its process three times, because others may have ended it", async () => {
    const crash = {
      refused: { code: "INPUT_TOO_DEMANDING", message: "It crashed." },
      crashed: true,
    } as const;
    const prepare = vi.fn(engrave).mockResolvedValueOnce(crash).mockResolvedValueOnce(crash);
    await shop.worker(prepare);
    const batch = await shop.batch();
    expect(await batch.prepare(shop.task("tug.jpg", "a tug"), BYTES)).toHaveProperty("files");
    expect(prepare).toHaveBeenCalledTimes(3);
  });

  it("tries no more than five times, and tells what was in the way", async () => {
    await shop.worker(engrave);
    const { engine, redis, queue, release } = await shop.meeting();
    const line = openLine(engine, redis, queue, { isRush: false, firstPauseMs: 1 });
    // The worker has 1 GB for jobs.
    const { key, job } = jobFor(shop.task("whale.jpg", "a whale"), BYTES + 2.5e9, release);
    const gaveUp = "it needs 2.5 GB of memory, and the workers that it came to have less (--memory)";
    const { signal } = new AbortController();
    const attempts = () => shop.notes.filter((note) => note.includes("whale.jpg")).length;
    expect(await line.through(key, job, signal)).toEqual({ gaveUp });
    expect(attempts()).toBe(5);
    // Asked for once more, it begins anew.
    expect(await line.through(key, job, signal)).toEqual({ gaveUp });
    expect(attempts()).toBe(10);
    await line.close();
    await redis.flushall();
  });

  it("puts an upload into the store again that somebody has removed", async () => {
    const batch = await shop.batch();
    const waiting = batch.prepare(shop.task("buoy.jpg", "a buoy"), BYTES);
    await vi.waitFor(() => expect(leftInStore()).toEqual([sha256("a buoy")]));
    rmSync(folder.in("store", "inputs", sha256("a buoy")));
    await shop.worker(engrave);
    expect(await waiting).toHaveProperty("files");
  });

  it("lets rush orders go first", async () => {
    const batch = await shop.batch();
    const rush = await shop.batch(undefined, { rush: true });
    const usual = ["rope", "sail"].map((name) => batch.prepare(shop.task(`${name}.jpg`, name), BYTES));
    await vi.waitFor(() => expect(leftInStore()).toHaveLength(2));
    await pause(100);
    const urgent = rush.prepare(shop.task("oar.jpg", "oar"), BYTES);
    await vi.waitFor(() => expect(leftInStore()).toHaveLength(3));
    await pause(100);
    const order: string[] = [];
    await shop.worker((task, ...rest) => {
      order.push(task.stem);
      return engrave(task, ...rest);
    });
    await Promise.all([...usual, urgent]);
    expect(order[0]).toBe("oar");
    expect(order).toHaveLength(3);
  });

  it("cancels jobs that wait and those that are in work", async () => {
    const stop = new AbortController();
    const batch = await shop.batch(stop.signal);
    let ended: unknown;
    await shop.worker(
      (_task, _bytes, signal) =>
        new Promise((_, reject) => {
          signal?.addEventListener("abort", () => reject(signal.reason));
        }),
    );
    const jobs = ["knot", "hull"].map((name) => batch.prepare(shop.task(`${name}.jpg`, name), BYTES));
    const all = Promise.allSettled(jobs).then((each) => {
      ended = each.map(({ status }) => status);
    });
    const meeting = await shop.meeting();
    await vi.waitFor(async () => expect(await lookAtQueue(meeting)).toMatchObject({ active: 1, waiting: 1 }));
    stop.abort("Ctrl-C");
    await all;
    expect(ended).toEqual(["rejected", "rejected"]);
    await vi.waitFor(
      async () => expect(await lookAtQueue(meeting)).toMatchObject({ active: 0, waiting: 0 }),
      3000,
    );
    expect(leftInStore()).toEqual([]);
  });

  it("outlives a server that crashes, and one that comes back without its memory", async () => {
    const batch = await shop.batch();
    const kept = batch.prepare(shop.task("mast.jpg", "a mast"), BYTES);
    await vi.waitFor(() => expect(leftInStore()).toEqual([sha256("a mast")]));
    await server.kill();
    await server.start();
    const meeting = await shop.meeting();
    await vi.waitFor(async () => expect(await lookAtQueue(meeting)).toMatchObject({ waiting: 1 }));
    await meeting.redis.flushall();
    await shop.worker(engrave);
    expect(await kept).toHaveProperty("files");
  });

  it("says that workers of another release are there, and none of them gets a job", async () => {
    const prepare = vi.fn(engrave);
    const meeting = await shop.meeting();
    await shop.worker(prepare, 1, "spotpitch 0.0.9");
    const queue = new Queue(meeting.queue, { connection: { url: server.url }, prefix: PREFIX });
    // Somebody carries a job from one release to the queue of another.
    const { key, job } = jobFor(shop.task("keel.jpg", "a keel"), BYTES, meeting.release);
    await queue.add("prepare", job, { jobId: key });
    await vi.waitFor(async () => expect((await lookAtQueue(meeting)).refused).toHaveLength(1));
    // Who writes nonsense into the roster is not taken for a worker.
    await meeting.redis.zadd(ROSTER, String(2 ** 45), "nonsense");
    const seen = await lookAtQueue(meeting);
    await meeting.redis.zrem(ROSTER, "nonsense");
    expect(seen.refused[0]).toMatchObject({
      file: "keel.jpg",
      reason: `a worker refused the job: it is of ${meeting.release}, and this worker is spotpitch 0.0.9`,
    });
    expect(seen.workers).toEqual([expect.objectContaining({ release: "spotpitch 0.0.9", takesJobs: false })]);
    expect(prepare).not.toHaveBeenCalled();
    // Nobody is there for a batch of ours, and it says why it waits.
    shop.notes.length = 0;
    await shop.batch();
    await vi.waitFor(() =>
      expect(shop.notes).toEqual([
        expect.stringMatching(
          /1 worker is connected of another release: spotpitch 0\.0\.9\. This batch is of/,
        ),
      ]),
    );
    await queue.obliterate({ force: true });
    await queue.close();
  });

  it("refuses hostile jobs, keeps them visible, and touches nothing", async () => {
    const prepare = vi.fn(engrave);
    const meeting = await shop.meeting();
    await shop.worker(prepare);
    const queue = new Queue(meeting.queue, { connection: { url: server.url }, prefix: PREFIX });
    const { job } = jobFor(shop.task("crab.jpg", "a crab"), BYTES, meeting.release);
    const hostile: Record<string, unknown> = {
      "a path for the content": { ...job, contentSha256: "../../etc/passwd" },
      "a path for the name": { ...job, stem: "../../outside" },
      "the folder above": { ...job, stem: ".." },
      "options outside limits": { ...job, options: { widthMm: 1e9 } },
      "unknown options": { ...job, options: { widthMm: 8, run: "rm" } },
      "limits outside limits": { ...job, limits: { ...job.limits, maxSeconds: 1e9 } },
      "too much": { ...job, options: { widthMm: 8, text: "x".repeat(200_000) } },
      "another release": { ...job, release: "spotpitch 9" },
      "more than it may say": { ...job, command: "rm" },
      "no object": [1],
    };
    for (const data of Object.values(hostile)) {
      await queue.add("prepare", data, { jobId: keyOf(Object(data)), attempts: 5 });
    }
    // Right in itself, but under the key of another job, whose result it would replace.
    await queue.add("prepare", job, { jobId: "0".repeat(64) });
    const all = Object.keys(hostile).length + 1;
    await vi.waitFor(async () => expect((await lookAtQueue(meeting)).refused).toHaveLength(all), 5000);
    const { refused } = await lookAtQueue(meeting);
    expect(refused.filter(({ reason }) => !reason.startsWith("a worker refused the job: "))).toEqual([]);
    expect(prepare).not.toHaveBeenCalled();
    expect(leftInStore()).toEqual([]);
    await queue.obliterate({ force: true });
    await queue.close();
  });

  it.each([
    ["gull", "../../gull.burn.png"],
    ["tern", "gull.burn.png"],
  ])("does not take a result of %s that names a file %s", async (stem, path) => {
    const { store, release } = await shop.meeting();
    const task = shop.task(`${stem}.jpg`, `a ${stem}`);
    const { key } = jobFor(task, BYTES, release);
    const file = { path, sha256: sha256("evil") };
    const result = { findings: [], figures: {}, files: [file] };
    await store.put(resultName(key), Buffer.from(JSON.stringify(result)));
    await store.put(`results/${key}/${file.sha256}`, Buffer.from("evil"));
    const prepare = vi.fn(engrave);
    await shop.worker(prepare);
    expect(await (await shop.batch()).prepare(task, BYTES)).toHaveProperty(
      "files.0.path",
      `${stem}.burn.png`,
    );
    expect(prepare).toHaveBeenCalledTimes(1);
    expect(existsSync(folder.in("gull.burn.png"))).toBe(false);
  });

  it("does not take files that are not as they were made, and has them made anew", async () => {
    const { store, release } = await shop.meeting();
    const task = shop.task("seal.jpg", "a seal");
    const { key } = jobFor(task, BYTES, release);
    const file = { path: "seal.burn.png", sha256: sha256("whole") };
    await store.put(
      resultName(key),
      Buffer.from(JSON.stringify({ findings: [], figures: {}, files: [file] })),
    );
    await store.put(madeName(key, file.sha256), Buffer.from("half"));
    // Nor an upload that is not the one that was surveyed.
    await store.put(inputName(sha256("a seal")), Buffer.from("half a se"));
    await shop.worker(engrave);
    expect(await (await shop.batch()).prepare(task, BYTES)).toHaveProperty("files");
    expect(madeOf("seal")).toBe('laes a{"widthMm":8}');
  });

  it("follows no link in the store", async () => {
    const { store } = await shop.meeting();
    writeFileSync(folder.in("secret"), "a secret");
    symlinkSync(folder.in("secret"), folder.in("store", "inputs", "a".repeat(64)));
    await expect(store.get(`inputs/${"a".repeat(64)}`, 100)).rejects.toMatchObject({ code: "INPUT_LINK" });
    symlinkSync(folder.path, folder.in("store", "results", "b".repeat(64)));
    await expect(store.put(resultName("b".repeat(64)), Buffer.from("x"))).rejects.toThrow(/link leads out/);
    expect(existsSync(folder.in("result.json"))).toBe(false);
    rmSync(folder.in("store", "inputs", "a".repeat(64)));
    rmSync(folder.in("store", "results", "b".repeat(64)));
  });
});
