import type { CalibrationPicture } from "../../6-report/calibration.js";
import type { MarkedCard } from "../../7-card/recipe.js";
import type { CardReading } from "./card-reading.js";

/** What a report says of a picture. */
export const reportedPicture = ({
  file,
  pxPerMm,
  evenness,
  solidOverBare,
}: CardReading<MarkedCard>): CalibrationPicture => ({
  ...{ file, pxPerMm, unevenness: evenness, solidOverBare },
});
