import { type PlanOptions, plan } from "../../src/index.js";
import type { CurveStore, Table } from "../../src/pipeline/kept-tables.js";
import { sweepMaterials } from "../sweep-materials.js";
import { markdownTable } from "../table.js";
import { photographs } from "./photographs.js";

const DENSITIES = Array.from({ length: 25 }, (_, k) => 150 + 25 * k);
const BASE = { widthMm: 10, spotMm: 0.115, doseSpread: 0.1 } as const;

/** A job, and six that differ from it by 5 % in one thing. */
const VARIANTS: readonly { readonly name: string; readonly change: PlanOptions }[] = [
  { name: "as it is", change: {} },
  { name: "spot − 5 %", change: { spotMm: 0.95 * BASE.spotMm } },
  { name: "spot + 5 %", change: { spotMm: 1.05 * BASE.spotMm } },
  { name: "size − 5 %", change: { widthMm: 0.95 * BASE.widthMm } },
  { name: "size + 5 %", change: { widthMm: 1.05 * BASE.widthMm } },
  { name: "spread − 5 %", change: { doseSpread: 0.95 * BASE.doseSpread } },
  { name: "spread + 5 %", change: { doseSpread: 1.05 * BASE.doseSpread } },
];

/** Table of the density that a plan recommends in nearly equal jobs, and how often it moves by more than one of 25 rows. */
export async function planMoves(): Promise<string> {
  const kept = new Map<string, Table>();
  const curves: CurveStore = { get: (key) => kept.get(key), set: (key, table) => kept.set(key, table) };
  const lines: string[][] = [];
  let moved = 0;
  let compared = 0;
  for (const [material, response] of Object.entries(sweepMaterials)) {
    for (const { name, bytes } of photographs()) {
      const chosen: number[] = [];
      for (const { change } of VARIANTS) {
        const options = { ...BASE, ...change, densities: DENSITIES, material: response };
        chosen.push((await plan(options, bytes, { curves })).recommended.row);
      }
      const far = chosen.filter((row) => Math.abs(row - chosen[0]) > 1).length;
      moved += far;
      compared += chosen.length - 1;
      lines.push([material, name, ...chosen.map((row) => String(DENSITIES[row])), String(far)]);
    }
  }
  const head = ["material", "photograph", ...VARIANTS.map(({ name }) => name), "far moves"];
  return `${markdownTable(head, lines)}\n\n${moved} of ${compared} choices move by more than one row.`;
}
