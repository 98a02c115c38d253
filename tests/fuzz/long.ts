/**
 * The long run of the mutated inputs: `npm run fuzz`, `npm run fuzz -- 5000`, or `npm run fuzz -- 120 121` for one case again.
 * Exit code 1 where there is a fault.
 */
import { LIMITS, runCases } from "./run-cases.js";

const [a = 20_000, b] = process.argv.slice(2).map(Number);
const [from, to] = b === undefined ? [0, a] : [a, b];
const { cases, faults, endings, slowestMs, peakBytes } = await runCases(from, to);
console.log(
  [
    ...[...endings].sort().map(([ended, count]) => `${String(count).padStart(6)}  ${ended}`),
    ...faults.map((fault) => `FAULT  ${fault}`),
    `${cases} cases, ${faults.length} faults; slowest ${(slowestMs / 1000).toFixed(1)} s of ${LIMITS.caseMs / 1000}, at most ${Math.round(peakBytes / 1e6)} MB of ${LIMITS.residentBytes / 1e6}`,
  ].join("\n"),
);
process.exitCode = faults.length > 0 ? 1 : 0;
