import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import sharp from "sharp";
import { afterAll, describe, expect, it } from "vitest";
import { commandOptions } from "../src/cli/flags.js";
import { prepare } from "../src/index.js";

const root = fileURLToPath(new URL("../", import.meta.url));
const MARK = "<!-- api example: run by tests/readme.test.ts -->";

const readme = readFileSync(join(root, "README.md"), "utf8");

/** The one TypeScript block that stands right behind the mark. Throws where the README has none, or several. */
function apiExample(): string {
  const parts = readme.split(MARK);
  if (parts.length !== 2) throw new Error(`README.md has ${parts.length - 1} marks "${MARK}", not one.`);
  const block = /^\s*```ts\n(.*?)\n```/s.exec(parts[1]);
  if (!block) throw new Error("No ```ts block follows the mark in README.md.");
  return block[1];
}

describe("the API example of the README", () => {
  // Its own folder, in which the sample images stand where they stand in a checkout.
  const folder = mkdtempSync(join(tmpdir(), "spotpitch-readme-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it("runs as it stands, with the package built from here", async () => {
    const example = apiExample();
    const built = pathToFileURL(join(root, "dist/index.js")).href;
    expect(example).toContain('from "spotpitch"');
    const file = join(folder, "example.mts");
    writeFileSync(file, example.replaceAll('from "spotpitch"', `from "${built}"`));
    symlinkSync(join(root, "sample-images"), join(folder, "sample-images"));

    const tsx = join(root, "node_modules/tsx/dist/cli.mjs");
    const ran = spawnSync(process.execPath, [tsx, file], { cwd: folder, encoding: "utf8", timeout: 60_000 });
    expect(ran.stderr).toBe("");
    expect(ran.status).toBe(0);
    // It prints sizes and tones, and none of them is missing.
    expect(ran.stdout).toMatch(/\d/);
    expect(ran.stdout).not.toMatch(/undefined|NaN/);
    for (const [, name] of example.matchAll(/writeFile\("([^"]+)"/g)) {
      const { width = 0, height = 0 } = await sharp(join(folder, name)).metadata();
      expect(width * height, name).toBeGreaterThan(1000);
    }
  });
});

describe("what the README says of the command", () => {
  /** What a command of the README prints, with its files elsewhere. */
  function printed(args: string): string {
    const folder = mkdtempSync(join(tmpdir(), "spotpitch-readme-"));
    try {
      const command = [join(root, "dist/cli/main.js"), ...args.split(" "), "--out", folder];
      const ran = spawnSync(process.execPath, command, { cwd: root, encoding: "utf8", timeout: 60_000 });
      return ran.stdout;
    } finally {
      rmSync(folder, { recursive: true });
    }
  }

  it("is what the command says", () => {
    const [, args = ""] = /^npx spotpitch (prepare .*) --out engraved$/m.exec(readme) ?? [];
    const [, shown = ""] = /^```\n(piece .*?\n)```$/ms.exec(readme) ?? [];
    expect(shown.split("\n").length).toBeGreaterThan(7);
    expect(printed(args).slice(0, shown.length)).toBe(shown);
  });

  it("shows rows of a plan as they are", () => {
    const [, args = ""] = /^npx spotpitch (plan .*) --out planned$/m.exec(readme) ?? [];
    const [, shown = ""] = /^```\n( +lines .*?\n)```$/ms.exec(readme) ?? [];
    const lines = shown.trimEnd().split("\n");
    expect(lines.length).toBeGreaterThan(5);
    expect(printed(args).split("\n")).toEqual(expect.arrayContaining(lines));
  });

  it("names options that exist", () => {
    const switches = ["out", "config", "json", "no-mirror", "auto-tone", "sheet", "recursive", "watch"];
    const flags = [...commandOptions.batch.flags, ...commandOptions.plan.flags].map(
      ({ usage }) => usage.slice(2).split(" ")[0],
    );
    const known = new Set([...flags, ...switches]);
    const named = [...readme.matchAll(/`--([a-z0-9-]+)/g)].map(([, name]) => name);
    expect(named.length).toBeGreaterThan(25);
    for (const name of named) expect(known, name).toContain(name);
  });

  it("explains every part of the report, and keys that are in it", async () => {
    const photo = readFileSync(join(root, "sample-images/step-wedge.png"));
    const { report } = await prepare(photo, { widthMm: 8, linesPerInch: 254 });
    const table = readme.split("### The report")[1].split("\n## ")[0];
    for (const part of Object.keys(report).filter((key) => key !== "tool"))
      expect(table, part).toContain(`\`${part}`);
    for (const part of ["coverage", "prediction"] as const) {
      for (const key of Object.keys(report[part] ?? {}))
        expect(table, key).toMatch(new RegExp(`\\b${key}\``));
    }
  });
});
