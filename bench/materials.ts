import type { PrepareOptions } from "../src/index.js";
import { gradualPoints, steepPoints } from "../tests/support/materials.js";

const madeUp = (name: string, response: typeof gradualPoints) => ({
  name,
  response,
  bareColor: "#e3c9a0",
  markedColor: "#3a2415",
  source: "made up for comparison",
});

/** The two materials of the tables. */
export const comparedMaterials = {
  gradual: madeUp("gradual", gradualPoints),
  steep: madeUp("steep", steepPoints),
} as const satisfies Record<string, PrepareOptions["material"]>;
