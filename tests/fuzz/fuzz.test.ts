import { expect, it } from "vitest";
import { runCases } from "./run-cases.js";

/** The long run is `npm run fuzz`. */
it("200 mutated files, drawings, options, materials and job sheets are taken or refused in good order", async () => {
  const { faults, endings } = await runCases(0, 200);
  expect(faults).toEqual([]);
  const ended = [...endings.keys()];
  for (const kind of ["photo", "drawing", "options", "material", "config file", "job sheet"]) {
    // Some get through and some do not, or the mutations are too weak or too strong.
    expect(ended).toContain(`${kind}: taken`);
    expect(ended.some((each) => each.startsWith(`${kind}: `) && !each.endsWith("taken"))).toBe(true);
  }
});
