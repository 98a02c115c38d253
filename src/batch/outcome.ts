import type { Report, Warning, WarningCode } from "../6-report/report.js";
import { startInShort } from "../6-report/words/placing-words.js";
import { pictureSize } from "../6-report/words/report-words.js";
import { toldAsFindings } from "../6-report/words/warnings/photo.js";
import { type ErrorCode, SpotpitchError } from "../core/errors.js";
import type { Reader } from "../core/reader.js";
import { sayRefusal } from "../core/refusals/refusals.js";
import type { Finding } from "../pipeline/triage/findings.js";
import type { Triage } from "../pipeline/triage/triage.js";
import { finding, inOrder } from "../pipeline/triage/words.js";
import type { PieceVerdict } from "./entry.js";

/** A file of a piece and the hash of its content. */
export interface OutputFile {
  readonly path: string;
  readonly sha256: string;
}

/** An upload whose files were written. */
export interface Prepared extends PieceVerdict {
  /** Names in the folder of the job. */
  readonly files: readonly OutputFile[];
  /** The predicted piece, WebP in base64; absent if there is no picture. */
  readonly thumbnail: string | undefined;
  /** The photo as it was sent, likewise. */
  readonly photo?: string | undefined;
}

/** An upload that cannot be prepared. */
export interface Refusal {
  readonly refused: { readonly code: ErrorCode; readonly message: string };
  /** The refused content; absent if it could not be read, or if another attempt may succeed. */
  readonly contentSha256?: string | undefined;
  /** Present if it needs more than so much memory for all workers. */
  readonly memoryBytes?: number;
  /** The same of time. */
  readonly maxSeconds?: number | undefined;
  /** Present if the process died of it, or was ended by somebody else. */
  readonly crashed?: true;
}

/**
 * The refusal for an error that the upload or its options caused. Every other error is thrown again and ends the run.
 *
 * @param reader of the message
 */
export function refusalOf(error: unknown, contentSha256: string | undefined, reader: Reader): Refusal {
  if (!(error instanceof SpotpitchError) || !/^(INPUT|OPTION)_/.test(error.code)) throw error;
  const { code } = error;
  const message = sayRefusal(error, reader);
  return { refused: { code, message }, ...(code !== "INPUT_CHANGING" && { contentSha256 }) };
}

/** Warnings, and the findings of which each says the same. */
const SAID_BY: Partial<Record<WarningCode, readonly Finding["code"][]>> = {
  "photo-damaged": ["DAMAGED"],
  "few-tones": ["TOO_DARK", "TOO_PALE", "LOW_CONTRAST"],
  "looks-like-artwork": ["ARTWORK"],
};

/** The findings of triage and report together. */
export function pieceVerdict(
  triage: Triage,
  { job, units, power, runTime, prediction, fidelity, warnings }: Report,
): PieceVerdict {
  const findings = inOrder([...findingsOf(warnings, fidelity), ...triage.findings]);
  const isSaid = ({ code }: Warning): boolean =>
    toldAsFindings.includes(code) || findings.some((told) => SAID_BY[code]?.includes(told.code));
  return {
    findings,
    figures: {
      ...triage.figures,
      ...pictureSize(job),
      ...(job.around?.placed && { start: startInShort(job.around.placed, units) }),
      units,
      linesPerInch: job.linesPerInch,
      method: job.method,
      material: job.material,
      seconds: runTime.seconds,
      ...powerFigures(power),
      assumed: job.assumed,
      ...(prediction && { visualErrorRms: prediction.visualErrorRms }),
    },
    warnings: warnings.filter((warning) => !warning.code.startsWith("material-") && !isSaid(warning)),
  };
}

/** A factor alone says nothing without the setting. */
function powerFigures({ percent, passes, speedMmPerS, isSpeedAssumed }: Report["power"]) {
  if (percent === undefined) return {};
  return { power: { percent, passes, speedMmPerS, ...(isSpeedAssumed && { isSpeedAssumed }) } };
}

/** Findings that only the prepared piece shows. */
export function findingsOf(
  warnings: readonly Pick<Warning, "code">[],
  fidelity?: Report["fidelity"],
): Finding[] {
  const has = (...codes: readonly Warning["code"][]): boolean =>
    warnings.some(({ code }) => codes.includes(code));
  if (has("nothing-burns", "nothing-to-see")) return [finding("NOTHING_BURNS", { grade: "ask" })];
  const { lostShare = 0, lost = { colours: 0 } } = fidelity ?? {};
  return [
    ...(has("colours-merge") ? [finding("COLOURS_MERGE", { grade: "ask" })] : []),
    ...(has("distinctions-lost")
      ? [finding("PARTS_LOST", { grade: "note", share: lostShare - lost.colours })]
      : []),
    ...(has("grey-areas", "not-as-drawn") ? [finding("SHADES_LOST", { grade: "note" })] : []),
  ];
}
