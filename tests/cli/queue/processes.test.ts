import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdirSync, readdirSync, readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { type Meeting, meet } from "../../../src/cli/queue/meeting.js";
import { PREFIX } from "../../../src/cli/queue/names.js";
import { lookAtQueue } from "../../../src/cli/queue/show.js";
import { startRedis, type TestServer } from "../../support/redis-server.js";
import { hasTool } from "../../support/tool.js";
import { builtCommand, makeUploads, runBatch, treeOf } from "../batch/uploads.js";
import { temporaryFolder } from "../command.js";

/* The built command, with its processes. The long form, with 500 uploads and random kills, is `npm run bench:queue`. */
describe.skipIf(!hasTool("redis-server"))("a batch over a queue", () => {
  const folder = temporaryFolder();
  const options = [
    "--width",
    "8mm",
    "--method",
    "floyd-steinberg",
    "--bitmap-only",
    "--no-compensate",
    "--workers",
    "1",
  ];
  const workers: ChildProcess[] = [];
  let server: TestServer;
  let meeting: Meeting;
  let meetAt: string[] = [];

  function startWorker(): ChildProcess {
    const args = [builtCommand, "worker", ...meetAt, "--workers", "1", "--lost-after", "1"];
    const worker = spawn(process.execPath, args, { stdio: ["ignore", "pipe", "pipe"] });
    workers.push(worker);
    return worker;
  }

  beforeAll(async () => {
    server = await startRedis();
    mkdirSync(folder.in("store"));
    meetAt = ["--queue", server.url, "--store", folder.in("store")];
    await makeUploads(folder.in("uploads"), 6);
    meeting = await meet({ queue: server.url, store: folder.in("store"), login: undefined }, () => {});
  });
  afterAll(async () => {
    for (const worker of workers) worker.kill("SIGKILL");
    meeting?.close();
    await server?.remove();
    folder.remove();
  });

  it("ends in the bytes of a local run, although a worker is killed in the middle", async () => {
    const [lost, other] = [startWorker(), startWorker()];
    const locally = runBatch([folder.in("uploads"), ...options, "--out", folder.in("local")]);
    expect(await locally).toMatchObject({ status: 4, stderr: "" });
    await vi.waitFor(async () => expect((await lookAtQueue(meeting)).workers).toHaveLength(2), 20_000);
    const ran = runBatch([folder.in("uploads"), ...options, ...meetAt, "--out", folder.in("far")]);
    // Both are at work, so it is killed with a job in its hands.
    const whenBoth = { timeout: 20_000, interval: 10 };
    const active = `${PREFIX}:${meeting.queue}:active`;
    await vi.waitFor(async () => expect(await meeting.redis.llen(active)).toBe(2), whenBoth);
    lost.kill("SIGKILL");
    const told: Buffer[] = [];
    other.stderr?.on("data", (data) => told.push(data));
    expect(await ran).toMatchObject({ status: 4, stderr: "" });
    expect(treeOf(folder.in("far"))).toEqual(treeOf(folder.in("local")));
    expect(readFileSync(folder.in("far", "index.html"), "utf8")).toContain("quay-0.jpeg");
    for (const left of ["inputs", "results"]) expect(readdirSync(folder.in("store", left))).toEqual([]);
    other.stdout?.on("data", (data) => told.push(data));
    other.kill("SIGTERM");
    const [status] = await once(other, "close");
    expect(status).toBe(0);
    expect(Buffer.concat(told).toString()).toMatch(/A worker was lost with a job.*^done {10}\d\n/ms);
  });
});
