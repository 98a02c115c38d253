import { readFileSync, statSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { namedMethods } from "../../src/4-halftone/catalogue.js";
import { materialPresets } from "../../src/index.js";
import { spotpitchHere } from "./here.js";

const manifest = new URL("../../package.json", import.meta.url);

describe("help", () => {
  it.concurrent.each([
    [[], "spotpitch prepare boat.jpg"],
    [["prepare"], "spotpitch prepare boat.jpg"],
    [["plan"], "spotpitch plan boat.jpg"],
    [["compare"], "spotpitch compare boat.jpg"],
    [["power-test"], "spotpitch power-test"],
    [["card"], "spotpitch card"],
    [["calibrate"], "spotpitch calibrate"],
    [["machine"], "spotpitch machine"],
    [["desk"], "spotpitch desk engraved"],
    [["words"], "spotpitch words > shop-words.json"],
    [["methods"], "spotpitch methods"],
    [["materials"], "spotpitch materials"],
  ])("of %j shows an example", async (command, example) => {
    const { status, stdout, stderr } = await spotpitchHere(...command, "--help");
    expect(status).toBe(0);
    expect(stderr).toBe("");
    expect(stdout).toMatch(/^Usage: spotpitch/);
    expect(stdout).toContain(`Example:\n  ${example}`);
  });

  it.concurrent.each([[[]], [["prepare"]], [["plan"]]])("of %j explains every exit code", async (command) => {
    const { stdout } = await spotpitchHere(...command, "--help");
    expect(stdout).toMatch(/Exit codes: 0 done, 1 .*work.*, 2 bad usage.*, 3 bad input file/);
  });

  it("of prepare names the options that were promised", async () => {
    const { stdout } = await spotpitchHere("prepare", "--help");
    const promised =
      "out width height fit density density-along spot material kind method tone-map no-compensate " +
      "speed accel firing-lag firing-loss line-shift one-way dose-spread view-distance mirror no-auto-tone bitmap-only " +
      "config json format";
    for (const option of promised.split(" ")) {
      expect(stdout).toMatch(new RegExp(`^ +(-\\w, )?--${option}( |$)`, "m"));
    }
  });

  it("claims no command that is not there", async () => {
    const { stdout } = await spotpitchHere("--help");
    const listed = stdout.split("Commands:\n")[1].split("\n\n")[0];
    const names = [...listed.matchAll(/^ {2}([a-z-]+)/gm)]
      .map(([, name]) => name)
      .filter((name) => name !== "help");
    expect(names).toContain("plan");
    const asked = await Promise.all(names.map((name) => spotpitchHere(name, "--help")));
    for (const [k, { status, stdout: help }] of asked.entries()) {
      expect([status, help.split(" ").slice(0, 3).join(" ")]).toEqual([0, `Usage: spotpitch ${names[k]}`]);
    }
  });

  it("the example of prepare can be read: every option in it exists", async () => {
    const { stdout } = await spotpitchHere("prepare", "--help");
    const example = stdout.split("Example:\n")[1];
    const options = example.match(/--[a-z-]+/g) ?? [];
    expect(options.length).toBeGreaterThan(2);
    for (const option of options) expect(stdout).toMatch(new RegExp(`^ +${option} `, "m"));
  });

  it("--version is the package's", async () => {
    const { version } = JSON.parse(readFileSync(manifest, "utf8")) as { version: string };
    expect((await spotpitchHere("--version")).stdout).toBe(`${version}\n`);
  });
});

describe("lists", () => {
  it("methods: one line each, with its source", async () => {
    const { status, stdout, stderr } = await spotpitchHere("methods");
    expect([status, stderr]).toEqual([0, ""]);
    const [list, note] = stdout.split("\n\n");
    const lines = list.split("\n");
    expect(lines.map((line) => line.split(" ")[0])).toEqual(namedMethods.map(({ id }) => id));
    // Every method is published or defined: a surname and a year, or "by definition".
    for (const line of lines) expect(line).toMatch(/ {2}\p{Lu}\p{L}+.* (19|20)\d\d$| {2}by definition$/u);
    expect(note).toMatch(/auto, the default/);
    for (const line of stdout.split("\n")) expect(line.length).toBeLessThanOrEqual(100);
  });

  it("materials: one line each, with the source of its figures", async () => {
    const { status, stdout, stderr } = await spotpitchHere("materials");
    expect([status, stderr]).toEqual([0, ""]);
    const [list, note] = stdout.split("\n\n");
    const lines = list.split("\n");
    expect(lines.map((line) => line.split(" ")[0])).toEqual(materialPresets.map(({ id }) => id));
    for (const line of lines) expect(line).toMatch(/ (gradual|steep) +(darkens|lightens) +illustrative/);
    expect(note).toMatch(/gradual: .*steep: /);
    for (const line of stdout.split("\n")) expect(line.length).toBeLessThanOrEqual(100);
  });

  it.each(["methods", "materials"])("%s --json parses, with ids and sources", async (command) => {
    const { status, stdout, stderr } = await spotpitchHere(command, "--json");
    expect([status, stderr]).toEqual([0, ""]);
    const list = JSON.parse(stdout) as { id: string; source: string }[];
    expect(list.length).toBeGreaterThan(9);
    for (const { id, source } of list) {
      expect(id).toMatch(/^[a-z0-9-]+$/);
      expect(source).not.toBe("");
    }
  });
});

it("the built command may be executed by its own name, as a package manager links it", () => {
  const built = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));
  expect(statSync(built).mode & 0o111).toBe(0o111);
  expect(readFileSync(built, "utf8").startsWith("#!/usr/bin/env node\n")).toBe(true);
});
