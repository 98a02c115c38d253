import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { type AddressInfo, createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { Redis } from "ioredis";

/** A Redis server of its own, which keeps its keys on the disk. */
export interface TestServer {
  readonly port: number;
  readonly url: string;
  /** End it without a warning, as a crash would. */
  readonly kill: () => Promise<void>;
  /** Start it again, with the keys that it kept. */
  readonly start: () => Promise<void>;
  readonly remove: () => Promise<void>;
}

/** @param settings lines of its configuration, beside those that all have */
export async function startRedis(settings: readonly string[] = []): Promise<TestServer> {
  const folder = mkdtempSync(join(tmpdir(), "spotpitch-redis-"));
  const port = await freePort();
  const file = join(folder, "redis.conf");
  mkdirSync(join(folder, "data"));
  const always = [
    "bind 127.0.0.1",
    "appendonly yes",
    'save ""',
    `dir ${join(folder, "data")}`,
    `port ${port}`,
  ];
  writeFileSync(file, [...always, ...settings].join("\n"));
  let server: ChildProcess | undefined;
  const start = async (): Promise<void> => {
    server = spawn("redis-server", [file], { stdio: "ignore" });
    await answers(port, settings);
  };
  const kill = async (): Promise<void> => {
    if (!server || server.exitCode !== null) return;
    const ended = once(server, "exit");
    server.kill("SIGKILL");
    await ended;
  };
  await start();
  return {
    port,
    url: `redis://127.0.0.1:${port}`,
    kill,
    start,
    async remove() {
      await kill();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

async function answers(port: number, settings: readonly string[]): Promise<void> {
  const password = settings.find((line) => line.startsWith("requirepass "))?.split(" ")[1];
  for (let tries = 0; tries < 100; tries++) {
    const redis = new Redis({
      port,
      lazyConnect: true,
      retryStrategy: () => null,
      ...(password && { password }),
    });
    redis.on("error", () => {});
    try {
      await redis.connect();
      await redis.ping();
      return;
    } catch {
      await pause(50);
    } finally {
      redis.disconnect();
    }
  }
  throw new Error("The Redis server of the tests does not start.");
}

export async function freePort(): Promise<number> {
  const probe = createServer().listen(0, "127.0.0.1");
  await once(probe, "listening");
  const { port } = probe.address() as AddressInfo;
  probe.close();
  return port;
}
