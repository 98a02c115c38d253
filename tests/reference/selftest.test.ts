import { readFile } from "node:fs/promises";
import { expect, it } from "vitest";
import { hasReference, runReference } from "../support/reference.js";

it.skipIf(!hasReference())("the brute-force simulation answers its own analytic checks", async () => {
  const written = await readFile(new URL("selftest.py", import.meta.url), "utf8");
  const checks = written.match(/^@check\(/gm)?.length;
  const { status, stdout, stderr } = runReference("simulate.py", ["--self-test"]);
  expect(stdout.match(/^FAIL.*/gm), stderr).toBeNull();
  expect(stdout.match(/^ok /gm)?.length).toBe(checks);
  expect(status).toBe(0);
});
