import { refusal } from "../refusals/refusals.js";
import type { ResponsePoints } from "./response.js";

/** What a material file counts doses in: solid fills, or percent of one. */
export type DoseUnit = "solid" | "percent";

/** All of them. */
export const doseUnits = ["solid", "percent"] as const satisfies readonly DoseUnit[];

/** The doses of a material file. */
interface Dosed {
  readonly response: ResponsePoints;
  readonly charDose?: number | undefined;
  readonly doseUnit?: DoseUnit | undefined;
}

/** The dose that a solid fill has in the file. */
export const solidDoseIn = ({ doseUnit }: Pick<Dosed, "doseUnit">): number =>
  doseUnit === "percent" ? 100 : 1;

/** No table goes to ten solid fills. A larger dose without a unit is probably percent. */
const DOSE_LIKE_PERCENT = 10;

/** The same material with doses in solid fills, and without a unit. Throws `INPUT_MATERIAL_INVALID` if doses look like percent. */
export function inSolidFills<Data extends Dosed>({ doseUnit, ...data }: Data): Omit<Data, "doseUnit"> {
  const { response, charDose } = data;
  if (doseUnit === undefined) refusePercent(response, charDose);
  if (doseUnit !== "percent") return data;
  return {
    ...data,
    response: response.map(([dose, luminance]) => [dose / 100, luminance] as const),
    ...(charDose !== undefined && { charDose: charDose / 100 }),
  };
}

function refusePercent(response: ResponsePoints, charDose = 0): void {
  const [lastDose] = response[response.length - 1];
  const maxDose = lastDose > DOSE_LIKE_PERCENT ? lastDose : charDose;
  if (maxDose > DOSE_LIKE_PERCENT) throw refusal("material-doses-like-percent", { maxDose });
}
