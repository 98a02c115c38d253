import { join } from "node:path";
import { outputOf } from "../child.js";
import { type Job, root, type Tool } from "../job.js";
import { writing } from "./writing.js";

const VERSION = "import sys, PIL; print(PIL.__version__, 'on Python', sys.version.split()[0])";

/** The system's interpreter first, because distributions package Pillow for it and not for a private one. */
export const pythonWithPillow = (): string | undefined =>
  ["/usr/bin/python3", "python3"].find((each) => outputOf([each, "-c", VERSION]) !== undefined);

export const grey = 'Pillow, convert("L"), resize(LANCZOS), convert("1")';

export function pillow(): Tool {
  const python = pythonWithPillow() ?? "";
  const script = join(root, "bench/tools/pillow_job.py");
  const run =
    (...more: string[]) =>
    ({ photo, columns, rows, linesPerInch }: Job, to: string) =>
      [python, script, photo.file, to, ...[columns, rows, linesPerInch].map(String), ...more] as const;
  return {
    name: "Pillow",
    version: python ? outputOf([python, "-c", VERSION]) : undefined,
    contenders: [
      writing(grey, "codes", run()),
      writing('Pillow, the same after draft("L", size)', "codes", run("draft")),
    ],
  };
}
