import type { CheckedPatch, ToneCheck } from "../../6-report/check.js";
import { adviceWords, outcomeWords, toneCheckNotes } from "../../6-report/words/tone-check-words.js";
import { judgeTones } from "../../7-calibration/tone-check.js";
import type { CardSpec } from "../../7-card/card-spec.js";
import { checkLayout } from "../../7-card/check-layout.js";
import { type CheckPromise, checkCardPlaces, promiseOf } from "../../7-card/check-recipe.js";
import type { MarkedCard } from "../../7-card/recipe.js";
import { libraryReader, type Reader } from "../../core/reader.js";
import { refusal } from "../../core/refusals/refusals.js";
import { packageVersion } from "../../core/version.js";
import type { CardPicture } from "../calibration/calibrate.js";
import { type CardReading, readMarkedCard } from "../calibration/card-reading.js";
import { correctedReadings } from "../calibration/corrected-readings.js";
import { joinedReadings } from "../calibration/joined-readings.js";
import { reportedPicture } from "../calibration/reported-picture.js";
import { straightened } from "../calibration/straightened.js";

/** What does not change the figures. */
export interface ToneCheckContext {
  /** The name of the recipe's file, for messages. */
  readonly recipeName?: string | undefined;
  /** Who reads the words. Default: a programmer who calls the library. */
  readonly reader?: Reader | undefined;
}

/** What pictures of a check card say. */
export interface CheckedTones {
  readonly check: ToneCheck;
  /** Where the patches lie. */
  readonly places: MarkedCard;
  /** The first picture straightened, as JPEG, with the card's shape. */
  readonly straightenedFile: Uint8Array;
}

/**
 * Whether the tones of an engraved check card came out as its material file and machine file predict.
 *
 * @param recipe the content of the card.json that was written beside its bitmap
 * @throws SpotpitchError `INPUT_CARD_UNREADABLE` for a picture or a recipe that will not do, and what decoding throws
 */
export async function checkTones(
  pictures: readonly CardPicture[],
  recipe: unknown,
  { recipeName = "card.json", reader = libraryReader }: ToneCheckContext = {},
): Promise<CheckedTones> {
  const promise = promiseOf(recipe);
  if (!promise) throw refusal("check-recipe-other", { file: recipeName });
  const uncorrected: CardReading<MarkedCard>[] = [];
  for (const { bytes, fileName: file = "" } of pictures) {
    uncorrected.push(await readMarkedCard({ bytes, file, wanted: promise.code }, placesOf));
  }
  const [first] = uncorrected;
  if (!first) throw refusal("card-pictures-none", {});
  if (!isShown(promise, first.recipe)) throw refusal("check-recipe-other", { file: recipeName });
  for (const each of uncorrected) refuseOtherMaterial(each, promise);
  const { readings, camera } = correctedReadings(uncorrected);
  return {
    check: checked(readings, camera ? "measured" : "assumed", promise, reader),
    places: first.recipe,
    straightenedFile: await straightened(first),
  };
}

const placesOf = (spec: CardSpec): MarkedCard => checkCardPlaces(checkLayout(spec));

/** Throws `INPUT_CARD_UNREADABLE` for a card that is solid the other way. */
function refuseOtherMaterial({ solidOverBare }: CardReading<MarkedCard>, promise: CheckPromise): void {
  const { material, steps, bareLuminance, doses } = promise;
  const darkens = solidOverBare < 1;
  const solid = steps[steps.length - 1].predicted[doses.indexOf(1)];
  if (darkens !== solid < bareLuminance) {
    throw refusal("check-other-material", { material, darkens: String(darkens) });
  }
}

/** Whether the card has patches of every step. */
const isShown = ({ steps }: CheckPromise, { patches }: MarkedCard): boolean =>
  steps.every(({ name }) => patches.some(({ pattern }) => pattern === name));

function checked(
  readings: readonly CardReading<MarkedCard>[],
  camera: ToneCheck["camera"],
  promise: CheckPromise,
  reader: Reader,
): ToneCheck {
  const [{ recipe }] = readings;
  const { overBare, usable } = joinedReadings(readings);
  const patches: CheckedPatch[] = recipe.patches.map(({ id, pattern }, k) => ({
    ...{ id, shows: pattern, measured: overBare[k] * promise.bareLuminance },
  }));
  const seen = promise.steps.map(({ name, wanted, predicted }) => ({
    ...{ name, wanted, predicted },
    measured: patches.flatMap(({ shows, measured }, k) => (shows === name && usable[k] ? [measured] : [])),
    hidden: patches.filter(({ shows }, k) => shows === name && !usable[k]).length,
  }));
  // Repeats of a tone lie apart: if all are hidden, the light is spoilt everywhere.
  if (seen.some(({ measured }) => measured.length === 0)) {
    const percent = (100 * usable.filter((each) => !each).length) / usable.length;
    throw refusal("card-uneven-light", { file: readings[0].file, percent });
  }
  const figures = {
    tool: { name: "spotpitch", version: packageVersion() },
    card: promise.code,
    ...{ material: promise.material, method: promise.method, linesPerInch: promise.linesPerInch },
    pictures: readings.map(reportedPicture),
    camera,
    bareLuminance: promise.bareLuminance,
    ...judgeTones(seen, promise.doses),
    patches,
  } as const;
  return {
    ...figures,
    outcome: outcomeWords(figures),
    advice: adviceWords(figures, reader),
    notes: toneCheckNotes(figures),
  };
}
