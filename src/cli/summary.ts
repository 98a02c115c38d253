import type { Report } from "../6-report/report.js";
import { linesPerInchFromPitchMm } from "../core/units.js";

/** What a person wants to know of a prepared piece, in a dozen lines. */
export function summaryOf(report: Report, files: readonly string[]): string {
  const { job, coverage, prediction, tonalResolution, detail, runTime } = report;
  const method = report.methodRanking ? `${job.method} (chosen)` : job.method;
  const lines = [
    row(
      "piece",
      `${length(job.widthMm)} × ${length(job.heightMm)} mm on ${job.material}, ${job.columns} × ${job.rows} pixels, ${method}`,
    ),
    row(
      "density",
      `${densityOf(job)} lines per inch; spot ${spotOf(job)} mm, matched ${Math.round(job.matchedLinesPerInch)}, overdrive ${job.overdrive.toFixed(2)}`,
    ),
  ];
  if (tonalResolution) {
    const at = (detailMm: number): string => {
      const tones = tonalResolution.find((entry) => entry.detailMm === detailMm);
      return tones
        ? `${Math.floor(tones.nominal)} in a ${detailMm} mm detail (${Math.floor(tones.held)} held at ±${Math.round(job.doseSpread * 100)} % dose)`
        : "";
    };
    lines.push(row("tones", `${at(0.25)}, ${at(1)}`));
  }
  if (prediction) {
    lines.push(
      row(
        "visual error",
        `${prediction.visualErrorRms.toFixed(2)} L* rms (${prediction.expectedVisualError.toFixed(2)} with dose spread); uncompensated ${prediction.uncompensatedVisualErrorRms.toFixed(2)}; 1 is just noticeable`,
      ),
    );
  }
  lines.push(
    row(
      "detail",
      `${detail.alongLpPerMm.at10.toFixed(1)} × ${detail.acrossLpPerMm.at10.toFixed(1)} line pairs per mm, photo ${detail.photoLpPerMm.toFixed(1)}; limited by ${detail.limitedBy}`,
    ),
    row(
      "burn",
      `${(100 * coverage.burnFraction).toFixed(1)} % of pixels, ${duration(runTime.seconds)} for ${runTime.lines} lines`,
    ),
  );
  for (const warning of report.warnings) lines.push(row("warning", warning.message));
  for (const file of files) lines.push(row("wrote", file));
  lines.push("", "Cautions:", ...report.cautions.map((caution) => `  - ${caution}`));
  return lines.join("\n");
}

const row = (label: string, text: string): string => `${label.padEnd(13)} ${text}`;
/** One decimal, and two digits below 1 mm. */
const length = (mm: number): string => (mm < 1 ? mm.toPrecision(2) : mm.toFixed(1));
const round = (value: number): string => String(Math.round(value * 10) / 10);

function densityOf({ linesPerInch, pitchAlongMm, pitchAcrossMm }: Report["job"]): string {
  if (pitchAlongMm === pitchAcrossMm) return round(linesPerInch);
  return `${round(linesPerInchFromPitchMm(pitchAlongMm))} (along) × ${round(linesPerInch)}`;
}

function spotOf({ spotAlongMm, spotAcrossMm }: Report["job"]): string {
  const across = spotAcrossMm.toPrecision(3);
  return String(
    spotAlongMm === spotAcrossMm
      ? Number(across)
      : `${Number(spotAlongMm.toPrecision(3))} × ${Number(across)}`,
  );
}

function duration(seconds: number): string {
  if (seconds < 90) return `${Math.round(seconds)} s`;
  const minutes = Math.round(seconds / 60);
  return minutes < 90 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}
