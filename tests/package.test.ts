import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { publint } from "publint";
import { formatMessage } from "publint/utils";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import * as library from "../src/index.js";
import * as physics from "../src/physics.js";
import * as stages from "../src/stages.js";
import {
  emptyFolder,
  entries,
  install,
  pack,
  readmeExamples,
  root,
  run,
  runExamples,
} from "./package-consumer.js";

const examples = readmeExamples();
const packed = mkdtempSync(join(tmpdir(), "spotpitch-packed-"));
let tarball = "";
let consumer = "";

beforeAll(() => {
  tarball = pack(packed);
  consumer = install(tarball);
});
afterAll(() => {
  for (const folder of [packed, consumer]) rmSync(folder, { recursive: true, force: true });
});

describe("the package", () => {
  it("is sound to publint", async () => {
    const { buffer, byteOffset, byteLength } = readFileSync(tarball);
    const file = buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer;
    const { messages } = await publint({ pack: { tarball: file }, strict: true });
    const manifest = JSON.parse(readFileSync(join(root, "package.json"), "utf8"));
    expect(messages.map((message) => formatMessage(message, manifest))).toEqual([]);
  });

  it("has types that every kind of ESM consumer resolves (are the types wrong?)", () => {
    const attw = join(root, "node_modules/.bin/attw");
    // It ends with a status of its own where it finds a problem.
    const told = run(attw, [tarball, "--profile", "esm-only", "--no-emoji"], packed);
    for (const entry of entries) expect(told).toContain(`"${entry}"`);
  });

  it("exports its three entry points and its manifest, and nothing else", async () => {
    const installed = join(consumer, "node_modules/spotpitch");
    const inner = readdirSync(join(installed, "dist"), { recursive: true, encoding: "utf8" });
    expect(inner).toContain("pipeline/prepare.js");
    const check = `
      const tell = async (path) => import(path, path.endsWith("json") ? { with: { type: "json" } } : {})
        .then(() => "imported", (error) => error.code);
      const paths = ["spotpitch", "spotpitch/stages", "spotpitch/physics", "spotpitch/package.json",
        "spotpitch/dist/index.js", "spotpitch/pipeline/prepare.js", "spotpitch/dist/pipeline/prepare.js"];
      for (const path of paths) console.log(await tell(path));`;
    writeFileSync(join(consumer, "reach.mjs"), check);
    const told = run(process.execPath, ["reach.mjs"], consumer).trim().split("\n");
    const refused = "ERR_PACKAGE_PATH_NOT_EXPORTED";
    expect(told).toEqual([...Array(4).fill("imported"), refused, refused, refused]);
  });

  it("runs its command", () => {
    const folder = emptyFolder(consumer, "command");
    const asked = ["prepare", "boat.jpg", "--width", "8mm", "--material", "maple", "--out", "engraved"];
    expect(run("npx", ["--no-install", "spotpitch", ...asked], folder)).toContain("boat.burn.png");
    expect(existsSync(join(folder, "engraved/boat.report.html"))).toBe(true);
  });
});

describe("a plain installation", () => {
  it("has no engine of queues and no client of object stores, and says what to install", () => {
    const command = join(consumer, "node_modules/spotpitch/dist/cli/main.js");
    const asked = (store: string) => [command, "worker", "--queue", "redis://127.0.0.1:1", "--store", store];
    const told = (store: string) =>
      spawnSync(process.execPath, asked(store), { cwd: consumer, encoding: "utf8" });
    expect(told(".")).toMatchObject({
      status: 2,
      stderr: expect.stringContaining("npm install bullmq ioredis."),
    });
    for (const name of ["bullmq", "ioredis", "@aws-sdk"])
      expect(existsSync(join(consumer, "node_modules", name))).toBe(false);
  });
});

describe("a strict TypeScript consumer", () => {
  const strict = {
    strict: true,
    skipLibCheck: false,
    exactOptionalPropertyTypes: true,
    noUnusedLocals: true,
    noEmit: true,
    target: "ES2022",
    lib: ["ES2023"],
    types: ["node"],
    typeRoots: [join(root, "node_modules/@types")],
  };
  const kinds = {
    NodeNext: { module: "NodeNext", moduleResolution: "NodeNext" },
    bundler: { module: "ESNext", moduleResolution: "bundler" },
  };

  for (const [kind, modules] of Object.entries(kinds)) {
    it(`type-checks every example against all three entry points: ${kind}`, () => {
      const folder = mkdtempSync(join(consumer, "typed-"));
      for (const { name, code } of examples) writeFileSync(join(folder, `${name}.mts`), code);
      const compilerOptions = { ...strict, ...modules };
      writeFileSync(join(folder, "tsconfig.json"), JSON.stringify({ compilerOptions, include: ["*.mts"] }));
      expect(run(process.execPath, [join(root, "node_modules/typescript/bin/tsc")], folder)).toBe("");
    });
  }
});

describe("an example of a README", () => {
  let told: ReadonlyMap<string, string>;
  beforeAll(async () => {
    told = await runExamples(consumer, examples);
  });

  it.each(examples)("runs in an empty folder: $name", ({ name, prints }) => {
    const printed = told.get(name)?.trimEnd().split("\n") ?? [];
    expect(printed.join("\n")).not.toMatch(/undefined|NaN|^$|failed/);
    if (prints.length > 0) expect(printed).toEqual(prints);
  });

  it.each([
    ["spotpitch", library],
    ["spotpitch/stages", stages],
    ["spotpitch/physics", physics],
  ])("shows how to use every value of %s", (entry, module) => {
    const used = examples.flatMap(({ code }) => importedFrom(code, entry));
    expect(used.filter((name) => !(name in module))).toEqual([]);
    expect(Object.keys(module).filter((name) => !used.includes(name))).toEqual([]);
  });
});

/** Names of values that an example imports from an entry point; those that it does not use, the type check refuses. */
function importedFrom(code: string, entry: string): string[] {
  const imports = [...code.matchAll(/import \{([^}]*)\} from "([^"]+)"/g)];
  return imports
    .filter(([, , from]) => from === entry)
    .flatMap(([, names]) => names.split(",").map((name) => name.trim()))
    .filter((name) => name !== "" && !name.startsWith("type "));
}
