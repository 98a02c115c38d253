import { didYouMeanOneOf } from "../nearest-name.js";
import type { Reader } from "../reader.js";
import type { Figures, Texts } from "../told.js";
import { type RefusalEntry, refusedAs } from "./entry.js";

export interface OfFile {
  /** Absent if unknown. */
  readonly file?: string;
}

export interface OfRow {
  /** Counted from 1. */
  readonly row: number;
  readonly dose: number;
  readonly luminance: number;
}

/** A fault of a material file. @param fault the end of the sentence, without full stop */
function ofFile<Data>(fault: (data: Data) => string): RefusalEntry<Data & OfFile> {
  return {
    code: "INPUT_MATERIAL_INVALID",
    option: "material",
    words: (data) =>
      `The material file${data.file === undefined ? "" : ` "${data.file}"`} cannot be used: ${fault(data)}.`,
  };
}

const ofRow = <Data extends OfRow>(fault: (data: Data) => string): RefusalEntry<Data & OfFile> =>
  ofFile((data) => `response row ${data.row}, [${data.dose}, ${data.luminance}]: ${fault(data)}`);

const short = (value: number): string => String(Number(value.toPrecision(2)));

/** What to do if doses count in another unit than they should. */
const rescaled = (solidDose: number): string =>
  `A solid fill at your usual power must have dose ${solidDose}${solidDose === 1 ? "" : ", because the file counts in percent"}: divide all doses by that of this fill${solidDose === 1 ? "" : `, and multiply them by ${solidDose}`}`;

/** Unknown materials, materials that must not be processed, and faulty material files. */
export const materialRefusals = {
  ...refusedAs("OPTION_MATERIAL_UNKNOWN", "material", {
    "material-unknown": (
      { material, near }: { readonly material: string; readonly near: readonly string[] },
      reader: Reader,
    ) =>
      `${reader.option("material")} "${material}" is not a preset.${didYouMeanOneOf(near)} ${reader.list("materials")} lists them; a material file of your own ends in .json.`,
  }),
  ...refusedAs("OPTION_MATERIAL_FORBIDDEN", "material", {
    "material-forbidden": ({ material, why }: Texts<"material" | "why">, reader: Reader) =>
      `${reader.option("material")} "${material}" must not be processed: ${why}`,
  }),
  "material-not-an-object": ofFile<object>(() => "it must be one object with the fields of a material"),
  "material-unknown-field": ofFile<{ readonly field: string; readonly known: readonly string[] }>(
    ({ field, known }) => `there is no field "${field}"; the fields are ${known.join(", ")}`,
  ),
  "material-missing-field": ofFile<{ readonly field: string; readonly wanted: string }>(
    ({ field, wanted }) => `${field} is missing: ${wanted}`,
  ),
  "material-wrong-field": ofFile<{ readonly field: string; readonly wanted: string; readonly got: string }>(
    ({ field, wanted, got }) => `${field} must be ${wanted}; it is ${got}`,
  ),
  "material-wrong-row": ofFile<{ readonly row: number }>(
    ({ row }) => `response row ${row} must be [dose, luminance factor], two numbers`,
  ),
  "material-negative-dose": ofRow<OfRow>(() => "a dose is 0 or more"),
  "material-wrong-luminance": ofRow<OfRow>(() => "a luminance factor lies within 0..1"),
  "material-falling-doses": ofRow<OfRow & { readonly before: number }>(
    ({ before }) => `doses must rise, and the row before has ${before}`,
  ),
  "material-turning": ofRow<OfRow>(
    () => "luminance factors must all fall or all rise, and here the direction changes",
  ),
  "material-never-changes": ofFile<object>(
    () => "response: the surface never changes, so nothing can be engraved",
  ),
  "material-doses-like-percent": ofFile<Figures<"maxDose">>(
    ({ maxDose }) =>
      `its doses reach ${maxDose}, which looks like percent, and dose 1 is a solid fill at your usual power. If 100 is that fill, add "doseUnit": "percent". If you wrote percent of machine power, divide each dose by that of your solid fill. If a dose really is ${maxDose} solid fills, add "doseUnit": "solid"`,
  ),
  "material-no-range": ofFile<Figures<"lightness">>(
    ({ lightness }) =>
      `response: from the bare surface to the strongest mark it changes by ${short(lightness)} L*, and 1 is just noticeable, so no picture would show. Measure the tones again, or check that they are luminance factors from 0 (black) to 1 (white)`,
  ),
  "material-no-bare-row": ofFile<Figures<"dose">>(
    ({ dose }) =>
      `response: it starts at dose ${short(dose)}, and the bare surface is missing. Measure the bare surface, and add its luminance factor as the first row, with dose 0`,
  ),
  "material-solid-unmarked": ofFile<Figures<"dose" | "solidDose">>(
    ({ dose, solidDose }) =>
      `response: a solid fill, dose ${solidDose}, leaves no mark, because half of the change comes only at dose ${short(dose)}. ${rescaled(solidDose)}`,
  ),
  "material-all-solid": ofFile<Figures<"dose" | "solidDose">>(
    ({ dose, solidDose }) =>
      `response: the change is all but complete at dose ${short(dose)}, so the lightest touch would give full tone. ${rescaled(solidDose)}`,
  ),
};
