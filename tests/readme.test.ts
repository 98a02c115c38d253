import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { commandOptions } from "../src/cli/flags.js";
import { prepare } from "../src/index.js";

const root = fileURLToPath(new URL("../", import.meta.url));
const readme = readFileSync(join(root, "README.md"), "utf8");

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
