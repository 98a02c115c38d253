import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { photographPath } from "../pipeline/photograph.js";
import { makeUploads } from "./batch/uploads.js";
import { namesIn, temporaryFolder } from "./command.js";

const built = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));
const folder = temporaryFolder();
beforeAll(() => makeUploads(folder.in("uploads"), 1));
afterAll(() => folder.remove());

/** Pipe the command's output into a reader. Returns the exit status of the command, not of the reader. */
function piped(reader: string, ...args: readonly string[]) {
  const script = `"$@" | ${reader}; echo "\${PIPESTATUS[0]}" >&3`;
  const { output } = spawnSync("bash", ["-c", script, "bash", process.execPath, built, ...args], {
    stdio: ["ignore", "pipe", "pipe", "pipe"],
    encoding: "utf8",
  });
  const [, stdout, stderr, status] = output;
  return { stdout, stderr, status: Number(status) };
}

const small = ["--width", "8", "--method", "bayer-8", "--bitmap-only"];
const cat = photographPath("locomotion-house-cat");

/** Gone before the command writes anything: each of its writes fails. */
const GONE = "exec true <&-";

describe("a reader that has had enough is no failure", () => {
  it("head takes the first line of the methods", () => {
    const { stdout, stderr, status } = piped("head -1", "methods");
    expect([stderr, status]).toEqual(["", 0]);
    expect(stdout).toMatch(/^floyd-steinberg .*\n$/);
  });

  it("head takes ten bytes of a report", () => {
    const { stdout, stderr, status } = piped("head -c 10", "materials", "--json");
    expect([stdout, stderr, status]).toEqual(["[\n  {\n    ", "", 0]);
  });

  it.each([["methods"], ["materials", "--json"], ["--help"], ["prepare", "--help"]])(
    "no reader is left for %s %s",
    (...args) => {
      expect(piped(GONE, ...args)).toEqual({ stdout: "", stderr: "", status: 0 });
    },
  );

  it.each([[[]], [["--json"]]])("prepare %j writes its files all the same", (more) => {
    const out = folder.in(`prepared${more.join("")}`);
    const ran = piped(GONE, "prepare", cat, ...small, "--out", out, ...more);
    expect(ran).toEqual({ stdout: "", stderr: "", status: 0 });
    expect(namesIn(out)).toEqual(["image.burn.png", "image.report.json"]);
  });

  it.each([[[]], [["--json"]]])("batch %j still ends in 4 for what it refused, and tidies up", (more) => {
    const out = folder.in(`batch${more.join("")}`);
    const ran = piped(GONE, "batch", folder.in("uploads"), ...small, "--out", out, ...more);
    expect(ran).toEqual({ stdout: "", stderr: "", status: 4 });
    expect(namesIn(`${out}/.spotpitch`)).toEqual(["ledger"]);
  });
});
