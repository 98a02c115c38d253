import type { Report, Warning } from "../report.js";

/** Tips of letters are always thin; less than this length of thin parts is not worth a word: of the sides, and in mm. */
const WORTH_TELLING_OF_SIDES = 0.05;
const WORTH_TELLING_MM = 1;
/** Softened edges of small lettering fill as much of a picture; more is grey. */
const MOSTLY_EDGES = 0.2;

/** Visual error in L* from which a piece is not what was drawn; where edges alone differ it stays below 1. */
const NOT_AS_DRAWN = 1.5;

/** What a user should know of a solid piece whose edges were placed. */
export function edgeWarnings({
  job,
  edges,
  prediction,
}: Pick<Report, "job" | "edges" | "prediction">): Warning[] {
  if (!edges) return [];
  const worthTellingMm = Math.min(WORTH_TELLING_MM, WORTH_TELLING_OF_SIDES * (job.widthMm + job.heightMm));
  const { thinStrokes, closingGaps, thinnestMarkMm, closingGapMm, between } = edges;
  const warnings: Warning[] = [];
  if (thinStrokes.lengthMm >= worthTellingMm) {
    warnings.push({
      code: "thin-strokes",
      message: `${length(thinStrokes.lengthMm)} of strokes are thinner (from ${thinStrokes.thinnestMm.toFixed(3)} mm) than the thinnest mark, ${thinnestMarkMm.toFixed(3)} mm: they are kept, and come out that thick. A smaller spot or a larger piece makes them finer.`,
    });
  }
  if (closingGaps.lengthMm >= worthTellingMm) {
    warnings.push({
      code: "closing-gaps",
      message: `${length(closingGaps.lengthMm)} of gaps are so narrow (from ${closingGaps.thinnestMm.toFixed(3)} mm) that they close, in places or throughout: only gaps wider than ${closingGapMm.toFixed(3)} mm stay open here. A smaller spot or a larger piece keeps them open.`,
    });
  }
  if (between > MOSTLY_EDGES) {
    warnings.push({
      code: "grey-areas",
      message: `${Math.round(100 * between)} % of the picture is neither ink nor paper; each part becomes one or the other. For a picture with tones take --kind photo.`,
    });
  }
  if (prediction && prediction.visualErrorRms > NOT_AS_DRAWN) {
    warnings.push({
      code: "not-as-drawn",
      message: `The piece will differ from the picture (by ${prediction.visualErrorRms.toFixed(1)} L* rms): greys become ink or paper, and parts finer than the spot lose their shape. For a picture with tones take --kind photo; for fine parts a larger piece.`,
    });
  }
  return warnings;
}

const length = (mm: number): string => (mm < 100 ? `${mm.toFixed(1)} mm` : `${(mm / 1000).toFixed(2)} m`);
