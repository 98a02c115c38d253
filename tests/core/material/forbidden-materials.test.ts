import { describe, expect, it } from "vitest";
import { findForbiddenMaterial, forbiddenMaterials } from "../../../src/core/material/forbidden-materials.js";
import { materialPresets } from "../../../src/core/material/material-presets.js";

/** The name that the entry goes by, or undefined when the name is not forbidden. */
function found(name: string): string | undefined {
  return findForbiddenMaterial(name)?.names[0];
}

describe("forbidden materials", () => {
  it.each([
    ["PVC", "pvc"],
    ["PVC sheet", "pvc"],
    ["3mmPVC", "pvc"],
    ["uPVC", "pvc"],
    ["P.V.C.", "pvc"],
    ["faux leather (PVC)", "pvc"],
    ["faux_leather_pvc", "pvc"],
    ["PVC leatherette", "pvc"],
    ["polyvinyl chloride", "pvc"],
    ["Poly-Vinyl-Chloride", "pvc"],
    ["polyvinylchloride film", "pvc"],
    ["vinyl", "vinyl"],
    ["vinyl-record", "vinyl"],
    ["Vinyl Records", "vinyl"],
    ["self-adhesive vinyl", "vinyl"],
    ["vinyl leather", "vinyl"],
    ["faux leather", "faux leather"],
    ["PTFE", "ptfe"],
    ["poly tetra fluoro ethylene", "ptfe"],
    ["chlorinated rubber", "chlorinated"],
    ["halogenated polymers", "chlorinated"],
    ["polycarbonate", "polycarbonate"],
    ["clear_polycarbonate_sheet", "polycarbonate"],
    ["PC", "polycarbonate"],
    ["ABS", "abs"],
    ["black ABS plastic", "abs"],
    ["carbon fibre", "carbon fibre"],
    ["Carbon-Fiber plate", "carbon fibre"],
    ["carbonfibre", "carbon fibre"],
    ["carbon fibres", "carbon fibre"],
    ["fibreglass", "fibreglass"],
    ["beryllium copper", "beryllium"],
    ["beryllium_bronze", "beryllium"],
    ["chrome-tanned leather", "chrome tanned"],
    ["Chrome Tanned", "chrome tanned"],
    ["unknown plastic", "unknown plastic"],
    ["plastic", "unknown plastic"],
  ])("finds %s", (name, expected) => {
    expect(found(name)).toBe(expected);
  });

  it("finds every listed name, in capitals and with underscores too", () => {
    for (const { names, wholeNames = [] } of forbiddenMaterials) {
      for (const name of [...names, ...wholeNames]) {
        expect(found(name)).toBe(names[0]);
        expect(found(name.toUpperCase().replaceAll(" ", "_"))).toBe(names[0]);
      }
    }
  });

  it("keeps its names lower case, each in one entry only", () => {
    const all = forbiddenMaterials.flatMap(({ names, wholeNames = [] }) => [...names, ...wholeNames]);
    expect(new Set(all).size).toBe(all.length);
    for (const name of all) expect(name).toMatch(/^[a-z0-9]+( [a-z0-9]+)*$/);
  });

  it("gives a reason, a hazard and a source for each", () => {
    for (const { reason, hazard, source } of forbiddenMaterials) {
      expect(reason).toMatch(/\.$/);
      expect(hazard).toMatch(/\.$/);
      expect(source.length).toBeGreaterThan(10);
    }
  });
});

describe("materials that are not forbidden", () => {
  it.each([
    "",
    "leatherette",
    "acrylic",
    "acrylic plastic",
    "vegetable-tanned leather",
    "pale maple, my machine",
    "PVC-free leatherette",
    "non-PVC leatherette",
    "chlorine free paper",
    "non-halogenated film",
    "chrome-free leather",
    "PU faux leather",
    "ethylene vinyl acetate foam",
    "polyvinyl alcohol",
    "carbon steel",
    "glass",
    "copper",
    "1 pc maple board",
    "absorbent card",
    "wet blue denim",
  ])("lets %j pass", (name) => {
    expect(found(name)).toBeUndefined();
  });

  it("lets every preset pass by id, name and alias", () => {
    for (const { id, name, aliases = [] } of materialPresets) {
      for (const each of [id, name, ...aliases]) expect([each, found(each)]).toEqual([each, undefined]);
    }
  });
});
