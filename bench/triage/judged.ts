import { decodePhoto } from "../../src/1-photo/decode.js";
import { seededRandom } from "../../src/core/random.js";
import { resolveOptions } from "../../src/options/options.js";
import type { FindingCode } from "../../src/pipeline/triage/findings.js";
import { type Triage, triagePhoto } from "../../src/pipeline/triage/triage.js";
import { makeUpload } from "./make-upload.js";
import type { Planted } from "./planted.js";

/** An upload and what triage said of it. */
export interface Judged {
  readonly planted: Planted;
  readonly triage: Triage;
  /** Processor time. */
  readonly triageMs: number;
}

export async function judgeUpload(planted: Planted, photograph: Buffer, seed: number): Promise<Judged> {
  const bytes = await makeUpload(planted, photograph, seededRandom(seed));
  const photo = await decodePhoto(bytes);
  const { spots, spotMm } = planted;
  const linesPerInch = 25.4 / spotMm;
  const options = resolveOptions({ kind: "photo", widthMm: spots * spotMm, spotMm, linesPerInch });
  const begun = process.cpuUsage();
  const triage = await triagePhoto(photo, options);
  const { user, system } = process.cpuUsage(begun);
  return { planted, triage, triageMs: (user + system) / 1000 };
}

/** The grade of a finding: `ready` where it was not found. */
export const gradeFor = ({ triage }: Judged, code: FindingCode): "ready" | "note" | "ask" =>
  triage.findings.find((finding) => finding.code === code)?.grade ?? "ready";
