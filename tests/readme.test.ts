import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { commandOptions, flagName, isSwitch, oppositeName } from "../src/cli/flags.js";
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
});

/** The README of the top and those of the folders. */
const documents = ["README.md", "DEVELOPERS.md"].concat(
  readdirSync(join(root, "src"), { recursive: true, encoding: "utf8" })
    .filter((path) => path.endsWith("README.md"))
    .map((path) => join("src", path)),
);

/** They say how figures were measured. */
const NAMING_SCRIPTS = [
  "DEVELOPERS.md",
  "src/4-search/README.md",
  "src/7-calibration/README.md",
  "src/pipeline/README.md",
];

describe.each(documents)("%s", (path) => {
  const text = readFileSync(join(root, path), "utf8");

  it("names options that exist", () => {
    const flags = Object.values(commandOptions).flatMap((command) =>
      command.flags.flatMap((flag) =>
        isSwitch(flag) ? [flagName(flag), oppositeName(flag)] : [flagName(flag)],
      ),
    );
    const ofCommands = [
      "out",
      "config",
      "machine",
      "no-machine",
      "json",
      "sheet",
      "list",
      "words",
      "port",
      "recursive",
      "watch",
      "show",
      "debug",
      "help",
      "card",
      "check",
      "version",
    ];
    // Of scripts, not of the command.
    const ofScripts = [
      "guess",
      "choose",
      "series",
      "trips",
      "slow",
      "megapixels",
      "limit",
      "count",
      "lines",
      "seed",
      "read",
      "size",
      "only",
      "cards",
      "repeats",
      "plain",
      "without",
      "runs",
      "all",
      "methods",
      "densities",
      "keep",
      "against",
      "list",
      "plot",
      "jobs",
      "spots",
      "side",
      "brute",
      "from",
      "visits",
      "pixels",
      "aims",
      "two",
      "seeds",
      "swap",
    ];
    const known = new Set([...flags, ...ofCommands, ...(NAMING_SCRIPTS.includes(path) ? ofScripts : [])]);
    const named = [...text.matchAll(/(?<=[\s`])--([a-z0-9][a-z0-9-]*)/g)].map(([, name]) => name);
    for (const name of named) expect(known, name).toContain(name);
  });

  it("links to what is there", () => {
    const links = [...text.matchAll(/\]\((?!https?:)([^)#]*)(?:#([^)]*))?\)/g)];
    for (const [, target, heading] of links) {
      const file = target === "" ? join(root, path) : join(root, dirname(path), target);
      expect(existsSync(file), target).toBe(true);
      if (heading === undefined) continue;
      const headings = [...readFileSync(file, "utf8").matchAll(/^#+ (.*)$/gm)].map(([, words]) =>
        words
          .toLowerCase()
          .replace(/[^\w\s-]/g, "")
          .replace(/ /g, "-"),
      );
      expect(headings, `${target}#${heading}`).toContain(heading);
    }
  });
});

it("the top README leads to every other one, and is short", () => {
  for (const path of documents.filter(
    (each) => each !== "README.md" && !/^src.(README|core.physics|stages|pipeline|[125]-)/.test(each),
  )) {
    expect(readme, path).toContain(path);
  }
  expect(readme.split("\n").length).toBeLessThanOrEqual(161);
});

it("the reference of the report explains every part of it, and keys that are in it", async () => {
  const text = readFileSync(join(root, "src/6-report/README.md"), "utf8");
  const photo = readFileSync(join(root, "sample-images/step-wedge.png"));
  const { report } = await prepare(photo, { widthMm: 8, linesPerInch: 254 });
  const table = text.split("## The report")[1].split("\n## ")[0];
  for (const part of Object.keys(report).filter((key) => key !== "tool")) {
    expect(table, part).toContain(`\`${part}`);
  }
  for (const part of ["coverage", "prediction"] as const) {
    for (const key of Object.keys(report[part] ?? {})) expect(table, key).toMatch(new RegExp(`\\b${key}\``));
  }
});
