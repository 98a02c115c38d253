import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { hasTool } from "./tool.js";

// The system's interpreter, because distributions package NumPy, SciPy and Pillow for it and not for a private one.
const python = "/usr/bin/python3";

/** Whether the scripts of tests/reference can run here. */
export function hasReference(): boolean {
  return hasTool(python, ["-c", "import numpy, scipy, PIL"]);
}

/** Give `input` as JSON to a script of tests/reference, and read its JSON answer. */
export function askReference<Answer>(script: string, input: unknown): Answer {
  const path = fileURLToPath(new URL(`../reference/${script}`, import.meta.url));
  const { status, stdout, stderr } = spawnSync(python, [path], {
    input: JSON.stringify(input),
    encoding: "utf8",
    maxBuffer: 1 << 28,
  });
  if (status !== 0) throw new Error(`${script} failed: ${stderr}`);
  return JSON.parse(stdout) as Answer;
}
