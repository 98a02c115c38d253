/** Keys of the report that others may rely on, as `part.key`; lists by their first entry. */
export const promisedKeys: readonly string[] = [
  "tool.name tool.version",
  "input.file input.widthPx input.heightPx input.effectivePxPerMm",
  "job.kind job.method job.levels job.toneMap job.compensated job.widthMm job.heightMm job.columns job.rows",
  "job.pitchAlongMm job.pitchAcrossMm job.linesPerInch job.spotAlongMm job.spotAcrossMm job.overdrive",
  "job.matchedLinesPerInch job.material job.viewLuminanceCdM2",
  "coverage.burnFraction coverage.gapMm coverage.overlap coverage.solidDoseFactor",
  "prediction.darkestLuminance prediction.lightestLuminance prediction.visualErrorRms prediction.visualErrorBias",
  "prediction.expectedVisualError prediction.unevenness prediction.toneShift",
  "prediction.uncompensatedVisualErrorRms",
  "tonalResolution.0.detailMm tonalResolution.0.addressable tonalResolution.0.nominal tonalResolution.0.held",
  "detail.alongLpPerMm.at50 detail.alongLpPerMm.at10 detail.acrossLpPerMm.at50 detail.acrossLpPerMm.at10",
  "detail.photoLpPerMm detail.limitedBy",
  "runTime.seconds runTime.lines runTime.blankLines runTime.beamOnSeconds",
  "warnings.0.code warnings.0.message",
  "cautions.0",
].flatMap((keys) => keys.split(" "));

/** The value at `part.key` in a JSON value; undefined if there is none. */
export function at(value: unknown, path: string): unknown {
  return path.split(".").reduce<unknown>((part, key) => {
    return typeof part === "object" && part !== null ? (part as Record<string, unknown>)[key] : undefined;
  }, value);
}
