import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, it } from "vitest";
import { photographPath } from "../pipeline/photograph.js";
import { temporaryFolder } from "./command.js";
import { spotpitchHere as spotpitch } from "./here.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

/** Red, an 8-bit control sequence, a new line that could pass for ours, and an override of the direction of writing (Unicode, UAX #9). */
const SLY = "a\u001b[31mb\u009b2Jc\nspotpitch: done\u202egnp.exe";
const OBEYED = /(?!\n)[\p{Cc}\p{Bidi_Control}]/u;
const src = fileURLToPath(new URL("../../src/cli/", import.meta.url));

describe("no name reaches the terminal with characters that it would obey", () => {
  it.each([
    ["a photo", ["prepare", SLY]],
    ["a folder of uploads", ["batch", SLY]],
    ["a command", [SLY]],
    ["an option", ["prepare", "a.jpg", `--${SLY}`]],
    ["a value", ["prepare", "a.jpg", "--width", SLY]],
    ["a file of options", ["prepare", "a.jpg", "--config", SLY]],
  ])("%s that is refused", async (_, args) => {
    const { status, stderr } = await spotpitch(...args);
    expect(status).toBeGreaterThan(1);
    expect(stderr).toContain("[31mb");
    expect(stderr).not.toMatch(OBEYED);
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
  });

  it("where the files of a piece are, in words and in JSON", async () => {
    const args = ["prepare", photographPath("locomotion-house-cat"), "--width", "8", "--method", "bayer-8"];
    const out = folder.in(SLY);
    const words = await spotpitch(...args, "--bitmap-only", "--out", out);
    expect(words.status).toBe(0);
    expect(words.stdout).toContain("[31mb");
    expect(words.stdout).not.toMatch(OBEYED);
    expect(words.stdout).not.toMatch(/^spotpitch: done/m);
    const json = await spotpitch(...args, "--bitmap-only", "--json", "--material", "maple", "--out", out);
    expect(json.stdout).not.toMatch(OBEYED);
    expect(JSON.parse(json.stdout).tool.name).toBe("spotpitch");
  });

  it("everything that is printed goes one way", () => {
    const writes = readdirSync(src, { recursive: true, encoding: "utf8" }).filter((name) =>
      /process\.std(out|err)\.write|console\./.test(
        name.endsWith(".ts") ? readFileSync(src + name, "utf8") : "",
      ),
    );
    expect(writes).toEqual(["terminal.ts"]);
  });
});
