/**
 * Does the order by expected error differ from the order by nominal error? Every method on photographs of 20 mm, two materials, two
 * densities: `npm run bench:compare [-- allium-oreophilum …]` (minutes). First the tables, as `compare` prints them. Then the winner
 * by each error, and Kendall's rank correlation τ of the two orders: for all methods, and for those with a nominal error of no more
 * than three times the minimum, because some methods are last by any measure.
 */
import { readFileSync } from "node:fs";
import { comparisonTable } from "../src/cli/comparison-table.js";
import { type Candidate, compare } from "../src/index.js";
import { photographPath } from "../tests/pipeline/photograph.js";
import { gradualPoints, steepPoints } from "../tests/support/materials.js";
import { rankCorrelation } from "./statistics.js";

const PHOTOS =
  process.argv.length > 2 ? process.argv.slice(2) : ["nagasaki-boats", "allium-oreophilum", "black-canyon"];
const MATERIALS = { gradual: gradualPoints, steep: steepPoints };
const CONTENDER = 3;

const correlation = (candidates: readonly Candidate[]): string =>
  rankCorrelation(
    candidates.map(({ visualErrorRms }) => visualErrorRms),
    candidates.map(({ expectedVisualError }) => expectedVisualError),
  ).toFixed(2);

const findings: string[] = [];
for (const photo of PHOTOS) {
  for (const [name, response] of Object.entries(MATERIALS)) {
    for (const linesPerInch of [254, 508]) {
      const seconds: number[] = [];
      const made = await compare(
        readFileSync(photographPath(photo)),
        {
          method: "all",
          widthMm: 20,
          spotMm: 0.115,
          linesPerInch,
          material: {
            name,
            response,
            bareColor: "#d8c49c",
            markedColor: "#2a1a10",
            source: "made up for tests",
          },
        },
        {
          onCandidate: ({ index, computingSeconds }) => {
            seconds[index] = computingSeconds;
          },
        },
      );
      console.log(
        `## ${photo}, ${name}, ${linesPerInch} lines per inch\n\n${comparisonTable(made, seconds, [])}\n`,
      );
      const { candidates, winners } = made;
      const { visualErrorRms: minError } = candidates[winners.nominal];
      const contenders = candidates.filter(({ visualErrorRms }) => visualErrorRms <= CONTENDER * minError);
      findings.push(
        `${photo}, ${name}, ${linesPerInch}: nominal ${candidates[winners.nominal].method}, robust ${candidates[winners.robust].method}; τ ${correlation(candidates)} of ${candidates.length}, ${correlation(contenders)} of ${contenders.length} contenders`,
      );
    }
  }
}
console.log(`## Order by nominal and by expected error\n\n${findings.join("\n")}`);
