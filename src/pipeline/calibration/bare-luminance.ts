import type { Calibration } from "../../6-report/calibration.js";
import { type PaperFound, paperBeside } from "../../7-card-picture/paper.js";
import type { Material } from "../../core/material/material.js";
import { refusal } from "../../core/refusals/refusals.js";
import type { CardReading } from "./card-reading.js";

/** What the user said of the bare surface. */
export interface AskedBare {
  readonly bareLuminance: number | undefined;
  /** Of white paper that lies beside the card. */
  readonly paperLuminance: number | undefined;
}

/** The luminance factor of the bare surface: as given, by paper beside the card, or that of the starting material. */
export function bareOf(
  { bareLuminance, paperLuminance }: AskedBare,
  readings: readonly CardReading[],
  material: Material,
): Calibration["bare"] {
  if (bareLuminance !== undefined && paperLuminance !== undefined) throw refusal("bare-given-twice", {});
  if (bareLuminance !== undefined) return { luminance: bareLuminance, from: "given" };
  if (paperLuminance === undefined) return { luminance: material.curve.bare, from: "material" };
  const papers = readings.map(paperOf);
  const found = papers.flatMap((paper) => (paper.is === "found" ? [paper.lnOverBare] : []));
  // The brightest picture of several may show the paper clipped.
  if (found.length === 0) refuseWithoutPaper(readings[0].file, papers[0]);
  const mean = found.reduce((sum, each) => sum + each, 0) / found.length;
  return { luminance: paperLuminance / Math.exp(mean), from: "paper" };
}

const paperOf = ({ picture, view, recipe, bareLight }: CardReading): PaperFound =>
  paperBeside({ picture, view, bareLight, widthMm: recipe.widthMm, heightMm: recipe.heightMm });

function refuseWithoutPaper(file: string, paper: PaperFound): never {
  throw refusal(paper.is === "missing" ? "paper-missing" : "paper-not-alone", { file });
}
