import { join } from "node:path";
import type { Command } from "../child.js";
import type { Contender, Job, Run, Tone } from "../job.js";

/** A contender that is told which file to write. */
export function writing(
  name: string,
  tone: Tone,
  command: (job: Job, bitmap: string) => Command,
  environment: Run["environment"] = {},
): Contender {
  return {
    name,
    tone,
    run: (job, folder) => {
      const bitmap = join(folder, "bitmap.png");
      return { command: command(job, bitmap), environment, bitmap };
    },
  };
}
