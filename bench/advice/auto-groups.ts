import { type PrepareOptions, prepare, type Report } from "../../src/index.js";
import { sweepMaterials } from "../sweep-materials.js";
import { markdownTable } from "../table.js";
import { photographs } from "./photographs.js";

const BASE: PrepareOptions = { kind: "photo", spotMm: 0.115, bitmapOnly: true };

/** Jobs that an engraver would call the same. */
const GROUPS: readonly { readonly name: string; readonly jobs: readonly PrepareOptions[] }[] = [
  { name: "90, 95, 100 mm at 254", jobs: [90, 95, 100].map((widthMm) => ({ widthMm, linesPerInch: 254 })) },
  {
    name: "292, 296, 300 lines",
    jobs: [292, 296, 300].map((linesPerInch) => ({ widthMm: 60, linesPerInch })),
  },
  {
    name: "spot 0.110, 0.115, 0.120 at 400",
    jobs: [0.11, 0.115, 0.12].map((spotMm) => ({ widthMm: 60, linesPerInch: 400, spotMm })),
  },
];

/** Table of what `auto` chooses in groups of nearly equal jobs, and in how many groups it chooses differently. */
export async function autoGroups(): Promise<string> {
  const lines: string[][] = [];
  let flips = 0;
  for (const [materialName, material] of Object.entries(sweepMaterials)) {
    for (const { name, bytes } of photographs()) {
      for (const group of GROUPS) {
        const reports: Report[] = [];
        for (const job of group.jobs)
          reports.push((await prepare(bytes, { ...BASE, ...job, material })).report);
        const methods = reports.map(({ job }) => job.method);
        const flipped = new Set(methods).size > 1;
        if (flipped) flips++;
        lines.push([
          materialName,
          name,
          group.name,
          flipped ? methods.join(", ") : methods[0],
          reports.map(lead).join(", "),
          flipped ? "changes" : "",
        ]);
      }
    }
  }
  const table = markdownTable(
    ["material", "photograph", "jobs", "chosen", "loss of the choice, L*", ""],
    lines,
  );
  return `${table}\n\n${flips} of ${lines.length} groups change their halftone.`;
}

/** Expected error of the chosen method above that of the best, in L*. */
function lead({ job, methodRanking = [] }: Report): string {
  const errors = methodRanking.map(({ trialError }) => trialError);
  const own = methodRanking.find(({ method }) => method === job.method)?.trialError ?? Number.NaN;
  return (own - Math.min(...errors)).toFixed(2);
}
