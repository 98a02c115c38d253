import { findMaterial } from "../../src/core/material/material.js";
import { DEFAULT_SPREAD } from "../../src/core/spread.js";
import { type Calibrated, type Plan, plan, prepare } from "../../src/index.js";
import { middleOf } from "../../tests/pipeline/photograph.js";
import { simulate } from "../../tests/pipeline/simulate.js";
import { viewLuminanceOf } from "../../tests/pipeline/view-luminance.js";
import type { Workshop } from "./workshop.js";

interface LearntWorkshop extends Workshop {
  readonly learnt: Calibrated;
}

/** Files as if somebody had told the truth, and as a card taught them. */
function filesOf({ engraving, surface, learnt }: LearntWorkshop) {
  const { response, spotAlongMm, spotAcrossMm, speedMmPerS, spread, ...faults } = engraving;
  const look = { bareColor: "#808080", markedColor: "#404040", source: "made up" };
  const { name: _name, source: _source, ...machine } = learnt.machine;
  // What one card cannot tell is for both as it is believed: from which dose the surface chars, and how pieces differ.
  const { charDose } = findMaterial(surface.preset);
  return {
    true: {
      material: { name: "true", response, ...look, ...(charDose !== undefined && { charDose }) },
      machine: {
        ...{ speedMmPerS, ...faults, spotMm: { alongMm: spotAlongMm, acrossMm: spotAcrossMm } },
        spread: { ...DEFAULT_SPREAD, ...spread },
      },
    },
    learnt: { material: learnt.material, machine: { ...machine, speedMmPerS } },
  };
}

/**
 * Visual error in L* rms of a photo engraved on the true machine: prepared with the true files, with the learnt ones, and with the preset;
 * then, if asked for, with the true response and what was learnt of the machine, and the other way round.
 */
export async function roundTrip(workshop: LearntWorkshop, isSwapped: boolean): Promise<number[]> {
  const { engraving, surface, guessMm } = workshop;
  const { response, spotAlongMm, spotAcrossMm, speedMmPerS, spread: _, ...faults } = engraving;
  const side = 256;
  const linesPerInch = Math.round((25.4 * 1.8) / spotAcrossMm);
  const photo = await middleOf("nagasaki-boats", side);
  const job = {
    linesPerInch,
    widthMm: (side * 25.4) / linesPerInch,
    method: "floyd-steinberg",
    autoTone: false,
  };
  const files = filesOf(workshop);
  const ways = [
    { material: files.true.material, ...files.true.machine },
    { material: files.learnt.material, ...files.learnt.machine },
    { material: surface.preset, spotMm: guessMm },
    { material: files.true.material, ...files.learnt.machine },
    { material: files.learnt.material, ...files.true.machine },
  ].slice(0, isSwapped ? 5 : 3);
  const errors: number[] = [];
  for (const way of ways) {
    const { burnFile, report } = await prepare(photo, { ...job, ...way });
    const { visualErrorRms } = await simulate({
      ...{ burnFile, photo, pitchMm: 25.4 / linesPerInch, spotMm: spotAlongMm, response, doseSpread: 0 },
      viewLuminanceCdM2: viewLuminanceOf(report),
      machine: { spotAcrossMm, speedMmPerS, ...faults },
    });
    errors.push(visualErrorRms);
  }
  return errors;
}

const DENSITIES = [150, 200, 254, 300, 339, 400, 450, 508, 600, 700, 762, 900, 1016];

/** How far apart the densities lie that a plan recommends by both files, and the useful tones that the true files promise at both. */
export async function plannedTrip(workshop: LearntWorkshop) {
  const files = filesOf(workshop);
  const plans: Plan[] = [];
  for (const { material, machine } of [files.true, files.learnt]) {
    const job = { widthMm: 10, densities: DENSITIES, method: "floyd-steinberg", material };
    plans.push(await plan({ ...job, ...machine }));
  }
  const places = plans.map(({ recommended }) => recommended.row);
  return {
    rowsApart: Math.abs(places[0] - places[1]),
    usefulTones: places.map((place) => plans[0].rows[place].usefulTones ?? 0),
  };
}
