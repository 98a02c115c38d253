import { linesPerInchFromPitchMm } from "../core/units.js";
import { parsePitchMm } from "../options/quantities.js";

export const linesPerInch = (flag: string, text: string): number =>
  linesPerInchFromPitchMm(parsePitchMm(flag, text));
export const asText = (_flag: string, text: string): string => text;
export const asYesOrNo = (_flag: string, text: string): boolean => text === "true";
