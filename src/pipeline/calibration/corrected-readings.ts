import type { MarkedCard } from "../../7-card/recipe.js";
import { type CameraCurve, cameraCurve, correctedLight } from "../../7-card-picture/camera-curve.js";
import type { LightPlane } from "../../7-card-picture/light-plane.js";
import type { CardReading } from "./card-reading.js";
import { patchLuminance } from "./patch-luminance.js";
import { patchPlaces } from "./patch-places.js";

/** Places of a patch differ by no more than this share: else the mean of corrected light is not the corrected mean. */
const MOST_TEXTURE = 0.08;
/** A patch with parts so bright may be clipped. */
const MOST_CLIPPED = 0.001;

/** Pictures of one card read anew with the curve of their camera, if they tell it. */
export interface CorrectedReadings<Recipe extends MarkedCard> {
  readonly readings: readonly CardReading<Recipe>[];
  readonly camera: CameraCurve | undefined;
}

/**
 * Pictures of one card at several exposures tell the curve of their camera. A card without such pictures is read with the curve that the
 * pictures of another one tell. Throws `INPUT_CARD_UNREADABLE`.
 */
export function correctedReadings<Recipe extends MarkedCard>(
  readings: readonly CardReading<Recipe>[],
): CorrectedReadings<Recipe> {
  const codes = [...new Set(readings.map(({ recipe }) => recipe.code))];
  const curves = new Map(
    codes.map((code) => [code, curveOf(readings.filter(({ recipe }) => recipe.code === code))]),
  );
  const camera = [...curves.values()].find((each) => each !== undefined);
  if (!camera) return { readings, camera };
  const corrected = readings.map((reading) => {
    const curve = curves.get(reading.recipe.code) ?? camera;
    const card = { ...reading, picture: correctedPicture(reading.picture, curve) };
    return { ...card, ...patchLuminance(card) };
  });
  return { readings: corrected, camera };
}

function curveOf(readings: readonly CardReading<MarkedCard>[]): CameraCurve | undefined {
  return cameraCurve(readings.map(exposedCard), patchPlaces(readings[0].recipe));
}

const exposedCard = ({ measured, usable, lnExposure, recipe }: CardReading<MarkedCard>) => ({
  lnExposure,
  light: measured.map(({ light, spread, clipped }, k) => {
    const { pattern } = recipe.patches[k];
    // Of plain patches only noise and grain make places differ. Dark ones of them tell the foot of the curve.
    const isEven = pattern === "bare" || pattern === "solid" || spread < MOST_TEXTURE * light;
    return usable[k] && isEven && clipped <= MOST_CLIPPED ? light : Number.NaN;
  }),
});

/** Steps of a table of light, even in its square root, as codes are. */
const STEPS = 4096;

function correctedPicture({ columns, rows, light }: LightPlane, camera: CameraCurve): LightPlane {
  const table = Float32Array.from({ length: STEPS + 2 }, (_, k) =>
    correctedLight(camera, Math.min(1, (k / STEPS) ** 2)),
  );
  const corrected = new Float32Array(light.length);
  for (let i = 0; i < light.length; i++) {
    const at = Math.sqrt(light[i]) * STEPS;
    const below = Math.floor(at);
    corrected[i] = table[below] + (at - below) * (table[below + 1] - table[below]);
  }
  return { columns, rows, light: corrected };
}
