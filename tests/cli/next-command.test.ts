import { expect, it } from "vitest";
import type { Plan } from "../../src/6-report/plan.js";
import { findPowerCommand, nextCommand } from "../../src/cli/next-command.js";

const plan = (
  spotAlongMm: number,
  spotAcrossMm: number,
  kind: Plan["job"]["kind"] = "photo",
  assumed: readonly string[] = [],
): Plan =>
  ({
    job: { kind, assumed },
    power: {},
    notes: [],
    recommended: { linesPerInch: 298, row: 1 },
    rows: [{ lens: 0 }, { lens: 1 }],
    lenses: [{}, { spotAlongMm, spotAcrossMm }],
  }) as unknown as Plan;

/** What was typed for a plan. */
const planned = (
  photo: string | undefined,
  typed: ReadonlyMap<string, string | boolean>,
  config?: string,
  out?: string,
) => ({ photo, typed, config, out });

it("keeps what means something to prepare, with density and spot as chosen", () => {
  const typed = new Map<string, string | boolean>([
    ["width", "80mm"],
    ["spot", "0.1mm,0.115mm"],
    ["minutes", "10"],
    ["kind", "photo"],
    ["mirror", true],
    ["no-compensate", false],
    ["no-auto-tone", true],
  ]);
  const command = nextCommand(plan(0.115, 0.115), planned("old boat's.jpg", typed, "shop.json"));
  expect(command).toMatch(/^npx spotpitch prepare 'old boat'\\''s\.jpg' --kind photo --config shop\.json /);
  expect(command).toMatch(/ --density 298 --spot 0\.115mm$/);
  for (const flag of ["--width 80mm", "--mirror", "--no-compensate", "--auto-tone"]) {
    expect(` ${command} `).toContain(` ${flag} `);
  }
  expect(command).not.toMatch(/--minutes|--kind.*--kind|0\.1mm,/);
});

it("spells an elliptical spot along × across", () => {
  expect(nextCommand(plan(0.08, 0.15), planned("boat.jpg", new Map(), undefined))).toBe(
    "npx spotpitch prepare boat.jpg --kind photo --density 298 --spot 0.08x0.15mm",
  );
});

it("takes a coating to strip and a shade to fill for solid artwork, with a name to fill in where none was given", () => {
  const typed = new Map([
    ["width", "80"],
    ["material", "cherry"],
    ["darkness", "60%"],
  ]);
  expect(nextCommand(plan(0.1, 0.1, "shade"), planned(undefined, typed, undefined))).toBe(
    "npx spotpitch prepare your-drawing.svg --kind solid --width 80 --material cherry --density 298 --spot 0.1mm",
  );
  expect(nextCommand(plan(0.1, 0.1, "strip"), planned("logo.svg", new Map(), undefined))).toMatch(
    /prepare logo\.svg --kind solid --density/,
  );
});

it("leaves an assumed spot out, so that the next report calls it assumed too", () => {
  expect(nextCommand(plan(0.1, 0.1, "photo", ["spotMm"]), planned("boat.jpg", new Map(), undefined))).toBe(
    "npx spotpitch prepare boat.jpg --kind photo --density 298",
  );
});

it("gives an assumed spot that a defocus has widened", () => {
  const widened = plan(0.417, 0.417, "photo", ["spotMm"]);
  const outOfFocus = { ...widened, job: { ...widened.job, defocusMm: 3 } };
  expect(nextCommand(outOfFocus, planned("boat.jpg", new Map([["defocus", "3mm"]]), undefined))).toBe(
    "npx spotpitch prepare boat.jpg --kind photo --density 298 --spot 0.417mm",
  );
});

it("gives the spot on the work, so the defocus is left out, and undone where a config file has it", () => {
  const typed = new Map([
    ["defocus", "2mm"],
    ["wavelength", "10.6um"],
    ["m2", "1.3"],
  ]);
  const widened = plan(0.3, 0.3);
  const outOfFocus = { ...widened, job: { ...widened.job, defocusMm: 2 } };
  expect(nextCommand(outOfFocus, planned("boat.jpg", typed, undefined))).toBe(
    "npx spotpitch prepare boat.jpg --kind photo --density 298 --spot 0.3mm",
  );
  expect(nextCommand(outOfFocus, planned("boat.jpg", new Map(), "shop.json"))).toMatch(
    /--config shop\.json .*--spot 0\.3mm --defocus 0$/,
  );
});

it("engraves a picture that is solid artwork solid, at the default density", () => {
  const solid = { ...plan(0.1, 0.1), notes: [{ code: "solid-artwork", message: "" }] } as Plan;
  expect(nextCommand(solid, planned("logo.svg", new Map([["width", "60mm"]]), undefined))).toBe(
    "npx spotpitch prepare logo.svg --kind solid --width 60mm --spot 0.1mm",
  );
});

it("keeps the output folder that was typed", () => {
  expect(nextCommand(plan(0.1, 0.1), planned("boat.jpg", new Map(), undefined, "to engrave"))).toContain(
    " --out 'to engrave' ",
  );
  const unknown = { ...plan(0.1, 0.1), power: { testLinesPerInch: 254 } } as Plan;
  expect(findPowerCommand(unknown, planned("boat.jpg", new Map(), undefined, "made"))).toContain(
    "power-test --out made ",
  );
  expect(findPowerCommand(unknown, planned("boat.jpg", new Map(), "shop.json"))).not.toContain("--out");
});

it("names the machine file that was typed, or that none was wanted", () => {
  const typed = planned("boat.jpg", new Map());
  expect(nextCommand(plan(0.1, 0.1), { ...typed, machine: "my machine.json" })).toContain(
    " --machine 'my machine.json' ",
  );
  expect(nextCommand(plan(0.1, 0.1), { ...typed, machine: false })).toContain(" --no-machine ");
  expect(nextCommand(plan(0.1, 0.1), typed)).not.toContain("machine");
});
