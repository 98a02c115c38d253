import { materialPresets } from "../src/core/material/material-presets.js";
import type { PrepareOptions } from "../src/index.js";

type Points = readonly (readonly [dose: number, luminanceFactor: number])[];

function tableOf(id: string): Points {
  const preset = materialPresets.find((candidate) => candidate.id === id);
  if (!preset) throw new Error(`No preset ${id}.`);
  return preset.response;
}

/** A table's luminance factor at a dose, straight between its points. */
function luminanceAt(points: Points, dose: number): number {
  const next = Math.max(
    1,
    points.findIndex(([at]) => at >= dose),
  );
  const [[fromDose, from], [toDose, to]] = [points[next - 1], points[next]];
  return from + ((to - from) * (dose - fromDose)) / (toDose - fromDose);
}

/** The first table with a response half way, as shares of the whole change, to that of the second. */
function midway(a: Points, b: Points): [dose: number, luminanceFactor: number][] {
  const doses = [...new Set([...a, ...b].map(([dose]) => dose))].sort((p, q) => p - q);
  const shareOf = (points: Points, dose: number): number => {
    const [bare, marked] = [points[0][1], points[points.length - 1][1]];
    return (luminanceAt(points, dose) - bare) / (marked - bare);
  };
  const [bare, marked] = [a[0][1], a[a.length - 1][1]];
  return doses.map((dose) => [dose, bare + ((marked - bare) * (shareOf(a, dose) + shareOf(b, dose))) / 2]);
}

const GRADUAL = "maple";
const STEEP = "leatherette";

/** Presets of both shapes, and one made up between them. */
export const sweepMaterials = {
  maple: GRADUAL,
  middling: {
    name: "middling",
    response: midway(tableOf(GRADUAL), tableOf(STEEP)),
    bareColor: "#e3c9a0",
    markedColor: "#3a2415",
    source: "made up for comparison: half way between two presets",
  },
  steep: STEEP,
} as const satisfies Record<string, PrepareOptions["material"]>;
