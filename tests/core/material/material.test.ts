import { describe, expect, it } from "vitest";
import { findMaterial, resolveMaterial } from "../../../src/core/material/material.js";
import { materialPresets } from "../../../src/core/material/material-presets.js";
import { luminanceFactorAt } from "../../../src/core/material/response.js";
import { lighteningPoints, steepPoints } from "../../support/materials.js";
import { refusalOf } from "../../support/refusal.js";

const varnish = {
  name: "pale varnish on a net float",
  response: steepPoints,
  bareColor: "#e3c9a0",
  markedColor: "#4A3020",
  source: "made up",
};

const refusal = (changes: object) => refusalOf(() => resolveMaterial({ ...varnish, ...changes }));

describe("a material file", () => {
  it("is taken as it stands, with its curve and shape", () => {
    const material = resolveMaterial(varnish);
    expect(material).toMatchObject(varnish);
    expect(material.shape).toBe("steep");
    expect(material.referencePitchMm).toBeUndefined();
    expect(luminanceFactorAt(material.curve, 0.35)).toBeCloseTo(0.325, 5);
    expect(Object.isFrozen(material)).toBe(true);
  });

  it("keeps the exponent by which its lines combine, and has none by default", () => {
    expect(resolveMaterial({ ...varnish, lineExponent: 1.5 }).lineExponent).toBe(1.5);
    expect("lineExponent" in resolveMaterial(varnish)).toBe(false);
  });

  it("keeps a reference pitch and hazards", () => {
    const material = resolveMaterial({ ...varnish, referencePitchMm: 0.1, hazards: ["smoke"] });
    expect(material.referencePitchMm).toBe(0.1);
    expect(material.hazards).toEqual(["smoke"]);
  });

  it("keeps the spot of its fills, round or not", () => {
    for (const referenceSpotMm of [0.1, { alongMm: 0.08, acrossMm: 0.12 }]) {
      const material = resolveMaterial({ ...varnish, referencePitchMm: 0.02, referenceSpotMm });
      expect(material.referenceSpotMm).toEqual(referenceSpotMm);
      // Five lines to a spot or more: no ripple.
      expect(material.curve.points).toEqual(steepPoints);
    }
  });

  it.each([[undefined], [[]]])(
    "says that its hazards are the user's to know where it names none (%j)",
    (hazards) => {
      const material = resolveMaterial({ ...varnish, hazards });
      expect(material.hazards).toHaveLength(1);
      expect(material.hazards[0]).toMatch(/pale varnish on a net float.*find out what its fume/);
    },
  );

  it("may lighten, may begin above dose 0, and may level off", () => {
    expect(resolveMaterial({ ...varnish, response: lighteningPoints }).curve.darkens).toBe(false);
    const level = [
      [0.1, 0.5],
      [0.4, 0.2],
      [0.7, 0.2],
    ];
    expect(resolveMaterial({ ...varnish, response: level }).curve.bare).toBe(0.5);
  });

  it.each([
    [
      "falling doses",
      [
        [0, 0.6],
        [0.4, 0.3],
        [0.3, 0.1],
      ],
      /row 3\b.*0\.4/,
    ],
    [
      "a repeated dose",
      [
        [0, 0.6],
        [0, 0.3],
      ],
      /row 2\b/,
    ],
    [
      "a dose below 0",
      [
        [-0.1, 0.6],
        [1, 0.3],
      ],
      /row 1\b/,
    ],
    [
      "a luminance factor above 1",
      [
        [0, 0.6],
        [0.5, 1.2],
        [1, 0.3],
      ],
      /row 2\b/,
    ],
    [
      "a luminance factor below 0",
      [
        [0, 0.6],
        [1, -0.01],
      ],
      /row 2\b/,
    ],
    [
      "luminance factors that turn",
      [
        [0, 0.6],
        [0.3, 0.4],
        [0.6, 0.4],
        [0.8, 0.5],
      ],
      /row 4\b/,
    ],
    [
      "a surface that never changes",
      [
        [0, 0.6],
        [1, 0.6],
      ],
      /never changes/,
    ],
    ["one row", [[0, 0.6]], /response/],
    [
      "a row of three numbers",
      [
        [0, 0.6, 1],
        [1, 0.1, 2],
      ],
      /row 1\b/,
    ],
    [
      "a row of text",
      [
        ["0", 0.6],
        [1, 0.1],
      ],
      /row 1\b/,
    ],
    [
      "a number that is none",
      [
        [0, 0.6],
        [Number.NaN, 0.1],
      ],
      /row 2\b/,
    ],
    [
      "a dose without end",
      [
        [0, 0.6],
        [Number.POSITIVE_INFINITY, 0.1],
      ],
      /row 2\b/,
    ],
  ])("is refused for %s, with the row named", (_, response, message) => {
    const error = refusal({ response });
    expect(error.code).toBe("INPUT_MATERIAL_INVALID");
    expect(error.message).toMatch(message);
  });

  it.each([
    ["a colour by name", { bareColor: "beige" }, /bareColor/],
    ["a short colour", { markedColor: "#fff" }, /markedColor/],
    ["a colour with opacity", { markedColor: "#11223344" }, /markedColor/],
    ["no name", { name: "" }, /name/],
    ["no source", { source: undefined }, /source/],
    ["a reference pitch of 0", { referencePitchMm: 0 }, /referencePitchMm/],
    ["lines that gain by company", { lineExponent: 0.9 }, /lineExponent.*1 \(they add up\) to 4/],
    ["lines of which one counts", { lineExponent: 4.1 }, /lineExponent.*1 \(they add up\) to 4/],
    ["a reference spot of 0", { referenceSpotMm: 0 }, /referenceSpotMm must be a spot diameter/],
    ["half a reference spot", { referenceSpotMm: { alongMm: 0.1 } }, /referenceSpotMm must be a spot/],
    ["lines far apart", { referencePitchMm: 1.01, referenceSpotMm: 0.1 }, /referenceSpotMm.*\/ 10 or more/],
    ["hazards as one text", { hazards: "smoke" }, /hazards/],
    ["a field that is not known", { colour: "#ffffff" }, /colour/],
  ])("is refused for %s, with the field named", (_, changes, message) => {
    const error = refusal(changes);
    expect(error.code).toBe("INPUT_MATERIAL_INVALID");
    expect(error.message).toMatch(message);
  });

  it("is refused with more than 64 rows to solve for, and taken with 64", () => {
    const rows = (count: number) => ({
      response: Array.from({ length: count }, (_, i) => [i / count, 0.6 - (0.5 * i) / count]),
      ...{ referencePitchMm: 0.1, referenceSpotMm: 0.1 },
    });
    expect(refusal(rows(65)).message).toMatch(/response must be no more than 64 rows.*65 rows/);
    expect(resolveMaterial({ ...varnish, ...rows(64) }).response).toHaveLength(64);
    expect(resolveMaterial({ ...varnish, ...rows(65), referenceSpotMm: undefined }).response).toHaveLength(
      65,
    );
  });

  it.each([[null], [[]], ["maple"], [3], [undefined]])("is refused when it is %j", (data) => {
    expect(refusalOf(() => resolveMaterial(data)).code).toBe("INPUT_MATERIAL_INVALID");
  });

  it.each(["PVC sheet", "black vinyl", "Polycarbonate", "chrome-tanned leather"])(
    "is refused when its name is %s, which must not be processed",
    (name) => {
      const error = refusal({ name });
      expect(error.code).toBe("OPTION_MATERIAL_FORBIDDEN");
      expect(error.message).toContain(name);
    },
  );
});

describe("presets by name", () => {
  it("are found by id and alias, whatever the case, spaces and underscores", () => {
    expect(findMaterial("maple").name).toBe("maple");
    expect(findMaterial(" Birch Plywood ").name).toBe("birch-plywood");
    expect(findMaterial("hard_maple").name).toBe("maple");
  });

  it("are listed when the name is unknown", () => {
    const error = refusalOf(() => findMaterial("moonstone"));
    expect(error.code).toBe("OPTION_MATERIAL_UNKNOWN");
    expect(error.received).toBe("moonstone");
    for (const { id } of materialPresets) expect(error.allowed).toContain(id);
    expect(error.message).toMatch(/materialPresets lists them/);
  });

  it("give way to the refusal of what must not be processed", () => {
    expect(refusalOf(() => findMaterial("pvc")).code).toBe("OPTION_MATERIAL_FORBIDDEN");
  });

  it.each(materialPresets.map((preset) => [preset.id, preset.shape] as const))(
    "%s is classified %s from its curve, as it declares",
    (id, shape) => {
      expect(findMaterial(id).shape).toBe(shape);
    },
  );
});

it("an unknown name is answered with names that the list shows, though another name of theirs is near", () => {
  const ids = materialPresets.map(({ id }) => id);
  for (const typed of ["wood", "steel", "painted-steal"]) {
    const { message } = refusalOf(() => findMaterial(typed));
    const [, named = ""] = /Did you mean (.*?)\?/.exec(message) ?? [];
    const names = named.split(/, | or /);
    expect(
      names.filter((name) => !ids.includes(name)),
      typed,
    ).toEqual([]);
  }
});
