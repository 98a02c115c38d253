import { lengthWords, type ShownUnits } from "../../../core/shown-units.js";
import { wholePercent } from "../../../core/words.js";
import type { Report } from "../../report.js";
import { fixed } from "../matter.js";
import { type Judged, warning } from "./rule.js";

/** Tips of letters are always thin. Thin parts are mentioned from this length: as a share of the sides, and in mm. */
const WORTH_TELLING_OF_SIDES = 0.05;
const WORTH_TELLING_MM = 1;
/** Soft edges of small lettering fill up to this share of a picture. Above it there are grey areas. */
const MOSTLY_EDGES = 0.2;
/** Visual error in L* from which a piece differs from its drawing. If only edges differ, the error stays below 1. */
export const NOT_AS_DRAWN = 1.5;

type Edges = NonNullable<Report["edges"]>;

function worthTelling({ job }: Judged, { lengthMm }: Edges["thinStrokes"]): boolean {
  return lengthMm >= Math.min(WORTH_TELLING_MM, WORTH_TELLING_OF_SIDES * (job.widthMm + job.heightMm));
}

const length = (mm: number, units: ShownUnits): string => {
  if (units.length === "in") return lengthWords(mm, units);
  return mm < 100 ? `${fixed(mm, 1)} mm` : `${fixed(mm / 1000, 2)} m`;
};

/** Arm's length, in mm. */
const ARMS_LENGTH_MM = 600;

/** Solid pieces whose edges were placed. */
export const artworkWarnings = {
  "ragged-edges": warning({
    title: "Edges look ragged",
    when: ({ edges, job: { linesPerInch } }) =>
      edges &&
      edges.smoothFromMm > ARMS_LENGTH_MM && {
        smoothFromMm: edges.smoothFromMm,
        // The tolerance falls at least as fast as the pitch.
        smoothLinesPerInch: (linesPerInch * edges.smoothFromMm) / ARMS_LENGTH_MM,
      },
    happens: ({ smoothFromMm }) =>
      `Slanted and round edges show steps to anyone nearer than ${Math.ceil(smoothFromMm / 10)} cm: the lines are too far apart to place them more finely.`,
    whatToDo: ({ smoothLinesPerInch }, reader) =>
      `For edges that look smooth at arm's length (60 cm), raise ${reader.option("linesPerInch")} to about ${Math.ceil(smoothLinesPerInch)}.`,
  }),
  "thin-strokes": warning({
    title: "Strokes thinner than a mark",
    when: (judged) => {
      const { edges } = judged;
      return (
        edges &&
        worthTelling(judged, edges.thinStrokes) && { ...edges.thinStrokes, markMm: edges.thinnestMarkMm }
      );
    },
    happens: ({ lengthMm, thinnestMm, markMm }, { units }) =>
      `${length(lengthMm, units)} of strokes are thinner (from ${fixed(thinnestMm, 3)} mm) than the thinnest mark, ${fixed(markMm, 3)} mm. They are kept, but burn as thick as the thinnest mark.`,
    whatToDo: () =>
      "If they must be finer, use a smaller spot or a larger piece. If they may be heavier, draw them that thick.",
  }),
  "closing-gaps": warning({
    title: "Gaps that close",
    when: (judged) => {
      const { edges } = judged;
      return (
        edges &&
        worthTelling(judged, edges.closingGaps) && { ...edges.closingGaps, closingMm: edges.closingGapMm }
      );
    },
    happens: ({ lengthMm, thinnestMm, closingMm }, { units }) =>
      `${length(lengthMm, units)} of gaps are so narrow (from ${fixed(thinnestMm, 3)} mm) that they close, in places or completely: only gaps wider than ${fixed(closingMm, 3)} mm stay open here.`,
    whatToDo: () => "Widen the gaps in the drawing, make the piece larger, or use a smaller spot.",
  }),
  "grey-areas": warning({
    title: "Greys in a drawing",
    when: ({ edges }) => edges && edges.between > MOSTLY_EDGES && { between: edges.between },
    happens: ({ between }) =>
      `${wholePercent(between)} of the picture is neither ink nor paper: each part of it becomes one or the other.`,
    whatToDo: (_, reader) =>
      `If the picture has tones, set ${reader.setting("kind", "photo")}. If it is a drawing, give it in two tones.`,
  }),
  "not-as-drawn": warning({
    title: "Not quite as drawn",
    when: ({ edges, prediction }) =>
      edges &&
      prediction &&
      prediction.visualErrorRms > NOT_AS_DRAWN && { visualErrorRms: prediction.visualErrorRms },
    happens: ({ visualErrorRms }) =>
      `The piece will differ from the picture by ${fixed(visualErrorRms, 1)} L* (rms): greys become ink or paper, and parts finer than the spot lose their shape.`,
    whatToDo: (_, reader) =>
      `Check the preview. If the picture has tones, set ${reader.setting("kind", "photo")}. If it has fine parts, make the piece larger.`,
  }),
};
