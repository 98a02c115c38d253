/**
 * Whether advice holds still in jobs that are nearly equal: `npm run bench:advice`. `--only auto` for the halftones that `auto`
 * chooses (three minutes), `--only plan` for the densities that a plan recommends (ten), `--only table` for the table of default
 * densities in `core/default-density.ts` (two).
 */
import { parseArgs } from "node:util";
import { autoGroups } from "./auto-groups.js";
import { defaultDensities } from "./default-densities.js";
import { planMoves } from "./plan-moves.js";

const parts = { auto: autoGroups, plan: planMoves, table: defaultDensities };
const { only } = parseArgs({ options: { only: { type: "string" } } }).values;
for (const [name, part] of Object.entries(parts)) {
  if (only === undefined || only === name) console.log(`\n## ${name}\n\n${await part()}`);
}
