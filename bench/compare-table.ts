/**
 * Does the order by expected error differ from that by nominal error? Every method on photographs of 20 mm, two materials, two
 * densities: `npm run bench:compare [-- allium-oreophilum …]` (minutes). Methods stand by nominal error, each with
 * ΔL* rms at nominal dose / its mean over doses −10 %, 0, +10 %; τ is Kendall's rank correlation of the two orders.
 */
import { readFileSync } from "node:fs";
import { compare } from "../src/index.js";
import { photographPath } from "../tests/pipeline/photograph.js";
import { gradualPoints, steepPoints } from "../tests/support/materials.js";

const PHOTOS =
  process.argv.length > 2 ? process.argv.slice(2) : ["nagasaki-boats", "allium-oreophilum", "black-canyon"];
const MATERIALS = { gradual: gradualPoints, steep: steepPoints };

for (const photo of PHOTOS) {
  for (const [name, response] of Object.entries(MATERIALS)) {
    for (const linesPerInch of [254, 508]) {
      const { candidates } = await compare(readFileSync(photographPath(photo)), {
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
      });
      const sorted = [...candidates].sort((a, b) => a.visualErrorRms - b.visualErrorRms);
      let agreement = 0;
      sorted.forEach(({ expectedVisualError }, k) => {
        for (const later of sorted.slice(k + 1))
          agreement += Math.sign(later.expectedVisualError - expectedVisualError);
      });
      const tau = agreement / ((sorted.length * (sorted.length - 1)) / 2);
      const robust = sorted.reduce((best, one) =>
        one.expectedVisualError < best.expectedVisualError ? one : best,
      );
      console.log(
        `${photo}, ${name}, ${linesPerInch} lines per inch: nominal ${sorted[0].method}, robust ${robust.method}, τ ${tau.toFixed(2)}`,
      );
      for (const { method, visualErrorRms, expectedVisualError } of sorted) {
        console.log(`  ${method}: ${visualErrorRms.toFixed(2)} / ${expectedVisualError.toFixed(2)}`);
      }
    }
  }
}
