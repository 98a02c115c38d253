import type { ResponsePoints } from "../../src/core/material/response.js";
import type { Pitch } from "../../src/core/plane.js";
import type { BeamMotion, Spot } from "../../src/core/spot.js";
import { askReference } from "../support/reference.js";
import { ideal } from "./burning.js";

/** One run of the independent brute-force simulation (tests/reference/burn_cases.py). */
export interface ReferenceCase {
  readonly pitch: Pitch;
  readonly spot: Spot;
  readonly motion?: BeamMotion;
  readonly points: ResponsePoints;
  /** Multiplies the samples, which are five per spot. */
  readonly sampling: number;
  readonly columns: number;
  readonly rows: number;
  /** Bits to simulate, or luminance factors to judge as they are. */
  readonly bits?: Uint8Array;
  readonly luminance?: Float32Array;
  readonly target?: Float32Array;
}

export interface ReferenceResult {
  readonly darkest: number;
  readonly lightest: number;
  readonly luminance: Float64Array;
  /** With a target only. */
  readonly rms: number;
  readonly bias: number;
}

export function simulateCases(cases: readonly ReferenceCase[]): ReferenceResult[] {
  const results = askReference<(Omit<ReferenceResult, "luminance"> & { readonly luminance: string })[]>(
    "burn_cases.py",
    { cases: cases.map(inWords) },
  );
  return results.map((result) => ({ ...result, luminance: doublesFrom(result.luminance) }));
}

function inWords({ pitch, spot, motion = ideal, points, sampling, columns, rows, ...planes }: ReferenceCase) {
  return {
    params: {
      pitchAlongMm: pitch.alongMm,
      pitchAcrossMm: pitch.acrossMm,
      spotAlongMm: spot.alongMm,
      spotAcrossMm: spot.acrossMm,
      response: points,
      sampling,
      firingLagUs: motion.firingLagUs,
      speedMmPerS: motion.speedMmPerS,
      lineShiftMm: motion.lineShiftMm,
      twoWay: !motion.oneWay,
    },
    columns,
    rows,
    ...(planes.bits && { burn: base64(planes.bits) }),
    ...(planes.luminance && { luminance: base64(planes.luminance) }),
    ...(planes.target && { target: base64(planes.target) }),
  };
}

const base64 = ({ buffer, byteOffset, byteLength }: Uint8Array | Float32Array): string =>
  Buffer.from(buffer, byteOffset, byteLength).toString("base64");

function doublesFrom(text: string): Float64Array {
  const bytes = Uint8Array.from(Buffer.from(text, "base64"));
  return new Float64Array(bytes.buffer);
}
