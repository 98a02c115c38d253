import { spawnSync } from "node:child_process";
import {
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("../", import.meta.url));

const stages = [
  "1-photo",
  "2-tone",
  "3-resample",
  "4-artwork",
  "4-halftone",
  "4-search",
  "5-burn",
  "7-card",
  "7-card-picture",
  "7-calibration",
];
const joined = ["core", "options", "workers", ...stages, "6-report", "pipeline"];

/** Which folders of `src/` a folder may import, itself left out. The root's own files may import all of them. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  core: [],
  options: ["core"],
  workers: ["core"],
  ...Object.fromEntries(stages.map((stage) => [stage, ["core"]])),
  "6-report": ["core"],
  pipeline: joined.filter((folder) => folder !== "pipeline"),
  sweep: joined,
  board: ["core", "options", "5-burn", "6-report"],
  batch: [...joined.filter((folder) => folder !== "workers"), "board"],
  stages: ["core", "options", ...stages, "6-report", "pipeline"],
  cli: ["core", "options", "workers", "6-report", "pipeline", "sweep", "board", "batch"],
};

/** Compiled separately; only the core imports it, as bytes. */
const APART = ["simd"];

const folders = Object.keys(MAY_IMPORT);
/** The package's own entry points: for those who use it, not for its parts. */
const ENTRIES = ["index.js", "stages.js", "physics.js"];

const targets = [...folders.map((folder) => `${folder}/some-part.js`), ...ENTRIES];
/** Where a part of a folder may stand, and how it names the source's root from there. */
const PLACES = [
  ["part.ts", "../"],
  ["inner/part.ts", "../../"],
] as const;

/** By the path of a part below `src/`, the folders and entries that lint refuses it to import. */
const refused = new Map<string, Set<string>>();
let project: string | undefined;

beforeAll(() => {
  project = mkdtempSync(join(tmpdir(), "spotpitch-walls-"));
  copyFileSync(join(root, "biome.json"), join(project, "biome.json"));
  for (const folder of folders) {
    for (const [place, up] of PLACES) {
      const file = join(project, "src", folder, place);
      mkdirSync(dirname(file), { recursive: true });
      writeFileSync(file, targets.map((target) => `export * from "${up}${target}";\n`).join(""));
      refused.set(`${folder}/${place}`, new Set());
    }
  }
  const lint = ["lint", "--only=style/noRestrictedImports", "--reporter=json", "--max-diagnostics=none"];
  const biome = join(root, "node_modules/@biomejs/biome/bin/biome");
  const { stdout } = spawnSync(process.execPath, [biome, ...lint], { cwd: project, encoding: "utf8" });
  for (const { location } of JSON.parse(stdout).diagnostics) {
    const target = targets[location.start.line - 1];
    const part = location.path.replace("src/", "");
    // Nobody names their own folder.
    if (!target.startsWith(`${part.split("/")[0]}/`)) refused.get(part)?.add(target.split("/")[0]);
  }
});
afterAll(() => {
  if (project) rmSync(project, { recursive: true });
});

it("every folder of the source has its place in the order", () => {
  const there = readdirSync(`${root}src`, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map(({ name }) => name);
  expect(there.sort()).toEqual([...folders, ...APART].sort());
});

/** Every form of import and export: of values and of types, at the top of a file and inside it. */
const NAMED_FILE = /(?:\bfrom|\bimport)\s*\(?\s*"(\.[^"]+)"/g;

it("no file of the source imports what its folder may not, in any form", () => {
  const across: string[] = [];
  const files = readdirSync(join(root, "src"), { recursive: true, encoding: "utf8" }).filter(
    (file) => file.endsWith(".ts") && file.includes("/") && !file.startsWith("simd/"),
  );
  let imports = 0;
  for (const file of files) {
    const [folder] = file.split("/");
    for (const [, target] of readFileSync(join(root, "src", file), "utf8").matchAll(NAMED_FILE)) {
      const [into] = join(dirname(file), target).split("/");
      imports++;
      const allowed = [folder, ...MAY_IMPORT[folder], ...(folder === "core" ? APART : [])];
      if (!allowed.includes(into)) across.push(`${file}: ${target}`);
    }
  }
  expect(across).toEqual([]);
  expect(imports).toBeGreaterThan(1000);
});

describe.each(folders)("%s", (folder) => {
  const allowed = new Set([folder, ...MAY_IMPORT[folder]]);
  const forbidden = [...folders.filter((other) => !allowed.has(other)), ...ENTRIES].sort();

  it.each(PLACES)("may import what it may and nothing else, from %s", (place) => {
    expect([...(refused.get(`${folder}/${place}`) ?? [])].sort()).toEqual(forbidden);
  });
});
