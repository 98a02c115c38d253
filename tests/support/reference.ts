import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { hasTool } from "./tool.js";

// The system's interpreter, because distributions package NumPy, SciPy and Pillow for it and not for a private one.
const python = "/usr/bin/python3";

/** Whether the scripts of tests/reference can run here. */
export function hasReference(): boolean {
  return hasTool(python, ["-c", "import numpy, scipy, PIL"]);
}

/** Run a script of tests/reference, with text on its standard input. */
export function runReference(script: string, parameters: readonly string[], input = "") {
  const path = fileURLToPath(new URL(`../reference/${script}`, import.meta.url));
  // Threads that wait for work cost a busy machine more than they bring: the arrays are small.
  const env = { ...process.env, OPENBLAS_NUM_THREADS: "1" };
  return spawnSync(python, [path, ...parameters], { input, env, encoding: "utf8", maxBuffer: 1 << 28 });
}

/** Give `input` as JSON to a script of tests/reference, and read its JSON answer. */
export function askReference<Answer>(script: string, input: unknown): Answer {
  const { status, stdout, stderr } = runReference(script, [], JSON.stringify(input));
  if (status !== 0) throw new Error(`${script} failed: ${stderr}`);
  return JSON.parse(stdout) as Answer;
}
