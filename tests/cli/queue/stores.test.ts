import { mkdirSync, readdirSync } from "node:fs";
import S3rver from "s3rver";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openFolderStore } from "../../../src/cli/queue/folder-store.js";
import { lasting } from "../../../src/cli/queue/lasting-store.js";
import { openStore } from "../../../src/cli/queue/open-store.js";
import { openS3Store } from "../../../src/cli/queue/s3-store.js";
import { inputName, madeName, resultName, type Store } from "../../../src/cli/queue/store.js";
import { freePort } from "../../support/redis-server.js";
import { namesIn, temporaryFolder } from "../command.js";

/* Both kinds of store keep the same promises. The S3 one talks to a server of another author by the official client. */
const folder = temporaryFolder();
const before = { ...process.env };
let server: S3rver | undefined;

beforeAll(async () => {
  for (const name of ["shared", "objects"]) mkdirSync(folder.in(name));
  const port = await freePort();
  server = new S3rver({
    ...{ port, address: "127.0.0.1", silent: true, directory: folder.in("objects") },
    configureBuckets: [{ name: "shop", configs: [] }],
  });
  await server.run();
  process.env.AWS_ENDPOINT_URL_S3 = `http://127.0.0.1:${port}`;
  process.env.AWS_REGION = "eu-west-1";
  // The user that the server has.
  process.env.AWS_ACCESS_KEY_ID = "S3RVER";
  process.env.AWS_SECRET_ACCESS_KEY = "S3RVER";
});
afterAll(async () => {
  await server?.close();
  for (const name of Object.keys(process.env)) if (name.startsWith("AWS_")) delete process.env[name];
  Object.assign(process.env, before);
  folder.remove();
});

const key = "0b".repeat(32);
const content = "1c".repeat(32);
const bytes = Uint8Array.from({ length: 70_000 }, (_, i) => (i * i) % 251);

describe.each<[string, () => Promise<Store>]>([
  ["a shared folder", () => openFolderStore(folder.in("shared"))],
  ["a bucket", () => openS3Store("s3://shop/jobs")],
])("%s", (_kind, open) => {
  it("gives back what was put there, until it is removed", async () => {
    const store = await open();
    for (const name of [inputName(content), madeName(key, content), resultName(key)]) {
      expect([await store.has(name), await store.get(name, 1e6)]).toEqual([false, undefined]);
      await store.put(name, bytes);
      await store.put(name, bytes);
      expect(await store.has(name)).toBe(true);
      expect(Buffer.compare((await store.get(name, 1e6)) ?? Buffer.of(), bytes)).toBe(0);
      await expect(store.get(name, 69_999)).rejects.toMatchObject({ code: "INPUT_TOO_LARGE" });
      await store.remove(name);
      await store.remove(name);
      expect([await store.has(name), await store.get(name, 1e6)]).toEqual([false, undefined]);
    }
  });

  it("makes no path of a name that is none", async () => {
    const store = await open();
    for (const call of [
      store.has("../x"),
      store.get("../x", 9),
      store.put("../x", bytes),
      store.remove("../x"),
    ])
      await expect(call).rejects.toThrow("leads out");
  });
});

it("a shared folder is left as clean as it was", () => {
  expect(readdirSync(folder.in("shared"), { recursive: true }).sort()).toEqual([
    "inputs",
    "results",
    "unfinished",
  ]);
  expect(namesIn(folder.path)).toEqual(["objects", "shared"]);
});

it("whoever opens a store finds the same identity, and another one in another store", async () => {
  const [first, again, bucket] = [
    await openStore(folder.in("shared")),
    await openStore(folder.in("shared")),
    await openStore("s3://shop/jobs"),
  ];
  expect(again.identity).toBe(first.identity);
  expect(bucket.identity).not.toBe(first.identity);
  expect((await openStore("s3://shop/jobs/")).identity).toBe(bucket.identity);
});

it("a bucket that is not there is told before any work", async () => {
  await expect(openStore("s3://nowhere/jobs")).rejects.toMatchObject({
    code: "QUEUE_UNREACHABLE",
    message: expect.stringMatching(/"s3:\/\/nowhere\/jobs" cannot be used \(NoSuchBucket/),
  });
});

describe("a store that fails", () => {
  const failing = (faults: number) => {
    let calls = 0;
    const get = async () => {
      if (calls++ < faults) throw Object.assign(new Error("reset by peer"), { code: "ECONNRESET" });
      return bytes;
    };
    const unused = () => Promise.reject(new Error("not asked for"));
    const store = { place: "s3://shop", get, has: unused, put: unused, remove: unused };
    return { store: lasting(store, [1, 1]), calls: () => calls };
  };

  it("is asked again, and then no more", async () => {
    expect(await failing(2).store.get(inputName(content), 1e6)).toBe(bytes);
    const { store, calls } = failing(9);
    const error = { code: "QUEUE_UNREACHABLE", message: expect.stringMatching(/"s3:\/\/shop".*ECONNRESET/) };
    await expect(store.get(inputName(content), 1e6)).rejects.toMatchObject(error);
    expect(calls()).toBe(3);
  });
});
