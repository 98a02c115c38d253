import { readdir, readFile } from "node:fs/promises";
import { expect, it } from "vitest";
import { hasReference, runReference } from "../support/reference.js";

const folder = new URL("./", import.meta.url);

it.skipIf(!hasReference())("the brute-force simulation answers its own analytic checks", async () => {
  const modules = (await readdir(folder)).filter((name) => /^(selftest|checks_.*)\.py$/.test(name));
  const texts = await Promise.all(modules.map((name) => readFile(new URL(name, folder), "utf8")));
  const checks = texts.join("\n").match(/^@check\(/gm)?.length;
  const { status, stdout, stderr } = runReference("simulate.py", ["--self-test"]);
  expect(stdout.match(/^FAIL.*/gm), stderr).toBeNull();
  expect(stdout.match(/^ok /gm)?.length).toBe(checks);
  expect(status).toBe(0);
});
