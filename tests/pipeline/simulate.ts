import { execFile } from "node:child_process";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import type { ResponsePoints } from "../../src/core/material/response.js";

// The system's interpreter, because distributions package NumPy, SciPy and Pillow for it and not for a private one.
const python = "/usr/bin/python3";
const script = fileURLToPath(new URL("../reference/simulate.py", import.meta.url));

/** A burn file, the photo it was made from, and the physics, for the brute-force simulation. */
export interface Piece {
  readonly burnFile: Uint8Array;
  readonly photo: Uint8Array;
  readonly pitchMm: number;
  readonly spotMm: number;
  readonly response: ResponsePoints;
  readonly viewLuminanceCdM2: number;
  /** The expected error is the mean over the doses 1 − s, 1, 1 + s. */
  readonly doseSpread: number;
  /** Further parameters of the script: an elliptical spot, faults of the machine. */
  readonly machine?: Readonly<Record<string, number>>;
}

export interface Simulated {
  readonly burnFraction: number;
  readonly visualErrorRms: number;
  readonly visualErrorBias: number;
  readonly expectedVisualError: number;
}

/** What tests/reference/simulate.py, which shares no code with the product, predicts of the file as a machine would read it. */
export async function simulate(piece: Piece): Promise<Simulated> {
  const { burnFile, photo, pitchMm, spotMm, response, viewLuminanceCdM2, doseSpread, machine } = piece;
  const folder = await mkdtemp(join(tmpdir(), "spotpitch-simulate-"));
  try {
    const burn = join(folder, "burn.png");
    const target = join(folder, "photo.png");
    const parameters = join(folder, "parameters.json");
    await writeFile(burn, burnFile);
    await writeFile(target, photo);
    const physics = {
      pitchAlongMm: pitchMm,
      pitchAcrossMm: pitchMm,
      spotAlongMm: spotMm,
      spotAcrossMm: spotMm,
      ...{ adaptLuminance: viewLuminanceCdM2, doseSpread, ...machine },
    };
    await writeFile(parameters, JSON.stringify({ burn, target, response, sampling: 2, ...physics }));
    const { stdout } = await promisify(execFile)(python, [script, parameters]);
    return JSON.parse(stdout) as Simulated;
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
