import { spawn } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { createInterface } from "node:readline";
import sharp from "sharp";
import { root } from "./job.js";
import { type Kernel, meanOf, timed } from "./kernel-timing.js";
import { pythonWithPillow } from "./tools/pillow.js";

export const PILLOW_DIFFUSION = 'convert("1") of 8-bit grey';

/**
 * Pillow's loop in C, in one Python process that runs until `stop`. Undefined without Pillow.
 *
 * @param grey [columns × rows] values 0..1
 * @param folder for the picture that the process reads once
 */
export function pillowDiffusion(grey: ArrayLike<number>, columns: number, rows: number, folder: string) {
  const python = pythonWithPillow();
  if (python === undefined) return undefined;
  const file = join(folder, "grey");
  const codes = Uint8Array.from(grey, (value) => Math.round(255 * value));
  writeFileSync(file, codes);
  const script = join(root, "bench/tools/pillow_kernel.py");
  const child = spawn(python, [script, file, `${columns}`, `${rows}`], {
    stdio: ["pipe", "pipe", "inherit"],
  });
  const answers = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  const kernel: Kernel = {
    name: PILLOW_DIFFUSION,
    form: "Pillow, C",
    pixels: codes.length,
    measure: async () => {
      child.stdin.write("\n");
      const { value, done } = await answers.next();
      if (done) throw new Error(`${script} ended early`);
      const [seconds, white, checksum] = value.split(" ");
      return { elapsedMs: 1000 * Number(seconds), mean: Number(white), checksum };
    },
    mean: meanOf(codes) / 255,
    tolerance: 0.002,
  };
  return { kernel, stop: () => child.stdin.end() };
}

export const blurName = (sigmaPx: number): string => `Gaussian blur of 8-bit grey, σ ${sigmaPx} px`;

/**
 * sharp's blur on one thread, raw in and raw out. `integer` is its fastest precision at every σ here. With the minimum amplitude it
 * follows the Gaussian to 3.7 σ, at no visible cost. Its rounded weights move the mean.
 *
 * @param grey [columns × rows] 0..255
 */
export function sharpBlur(grey: Uint8Array, columns: number, rows: number, sigmaPx: number): Kernel {
  sharp.concurrency(1);
  sharp.cache(false);
  const raw = { width: columns, height: rows, channels: 1 } as const;
  return {
    name: blurName(sigmaPx),
    form: "sharp, C++",
    pixels: grey.length,
    measure: timed(
      () =>
        sharp(grey, { raw, limitInputPixels: false })
          .blur({ sigma: sigmaPx, precision: "integer", minAmplitude: 0.001 })
          .raw()
          .toBuffer(),
      meanOf,
    ),
    mean: meanOf(grey),
    tolerance: 0.01 * 255,
  };
}
