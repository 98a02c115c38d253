import { readFile } from "node:fs/promises";
import { halftoneMethods } from "../../src/4-halftone/catalogue.js";
import { SpotpitchError } from "../../src/core/errors.js";
import { materialPresets } from "../../src/core/material/material-presets.js";
import { type Random, seededRandom } from "../../src/core/random.js";
import { pitchMmFromLinesPerInch } from "../../src/core/units.js";
import { type PrepareOptions, resolveOptions } from "../../src/options/options.js";
import { prepareTable } from "../../src/options/tables.js";
import { fittingMethod } from "../../src/pipeline/burn/choose-method.js";

/** A job drawn at random, small enough that every pixel is judged. */
export interface ModelJob {
  readonly photo: Uint8Array;
  readonly options: PrepareOptions;
  /** In microseconds; 0 as long as the product has no such option. */
  readonly firingLossUs: number;
}

const PHOTOS = ["dog-on-quay", "harbour", "lighthouse", "nets", "portrait"] as const;

/** Job number `index` of a seed: the same whatever other jobs are drawn. */
export async function drawModelJob(seed: number, index: number): Promise<ModelJob> {
  const draw = new Draw(seededRandom(1009 * seed + index));
  const size = drawSize(draw);
  const firingLossUs = drawFiringLoss(draw);
  const options: PrepareOptions = {
    ...size,
    ...drawMotion(draw),
    ...(firingLossUs !== 0 && { firingLossUs }),
    material: drawMaterial(draw),
    levels: draw.among([2, 2, 2, 2, 4, 16]),
    toneMap: draw.among(["lightness", "lightness", "luminance"]),
    spread: {
      common: draw.between(0, 0.08),
      local: draw.between(0, 0.08),
      localLengthMm: draw.between(1, 4),
      line: draw.between(0, 0.08),
      spot: draw.between(0, 0.08),
    },
    viewDistanceMm: draw.between(200, 500),
    kind: "photo",
    autoTone: false,
  };
  const photo = await readFile(new URL(`../../sample-images/${draw.among(PHOTOS)}.jpg`, import.meta.url));
  return { photo, options: { ...options, method: drawMethod(draw, options) }, firingLossUs };
}

class Draw {
  readonly #random: Random;

  constructor(random: Random) {
    this.#random = random;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.#random();
  }

  chance(share: number): boolean {
    return this.#random() < share;
  }

  among<Each>(choices: readonly Each[]): Each {
    return choices[Math.floor(this.#random() * choices.length)];
  }
}

/** Density, spot, and a part of the photo that makes 200 to 320 pixels a side. */
function drawSize(draw: Draw) {
  const linesPerInch = draw.between(150, 1100);
  const ratio = draw.among([1, 1, draw.between(0.6, 1.9)]);
  const linesPerInchAlong = Math.min(1100, Math.max(150, linesPerInch * ratio));
  const alongMm = draw.between(0.06, 0.25);
  const acrossMm = draw.chance(0.5) ? alongMm : draw.between(0.06, 0.25);
  const cropPercent = draw.between(25, 90);
  return {
    linesPerInch,
    linesPerInchAlong,
    spotMm: { alongMm, acrossMm },
    widthMm: draw.between(200, 320) * pitchMmFromLinesPerInch(linesPerInchAlong),
    heightMm: draw.between(200, 320) * pitchMmFromLinesPerInch(linesPerInch),
    fit: "cover",
    crop: {
      leftPercent: draw.between(0, 100 - cropPercent),
      topPercent: draw.between(0, 100 - cropPercent),
      widthPercent: cropPercent,
      heightPercent: cropPercent,
    },
  } as const;
}

const drawMotion = (draw: Draw) => ({
  speedMmPerS: draw.between(100, 600),
  firingLagUs: draw.among([0, draw.between(0, 100)]),
  lineShiftMm: draw.among([0, draw.between(0, 0.1)]),
  oneWay: draw.chance(0.3),
});

/** Drawn even if the product has no such option, so that all else of the job stays the same. */
function drawFiringLoss(draw: Draw): number {
  const lossUs = draw.among([0, draw.between(-20, 40)]);
  return "firingLossUs" in prepareTable ? lossUs : 0;
}

/** A preset, or a made-up response that falls or rises within a tenth of the dose (steep) to all of it (gradual). */
function drawMaterial(draw: Draw): NonNullable<PrepareOptions["material"]> {
  const [preset, middle, width] = [
    draw.among(materialPresets),
    draw.between(0.3, 0.6),
    draw.between(0.02, 0.2),
  ];
  const [dark, light, lightens] = [draw.between(0.03, 0.12), draw.between(0.4, 0.75), draw.chance(0.3)];
  if (draw.chance(0.4)) return preset.id;
  const marked = (dose: number) => 1 / (1 + Math.exp((middle - dose) / width));
  const share = (dose: number) => (marked(dose) - marked(0)) / (marked(1) - marked(0));
  const doses = [0, 0.1, 0.2, 0.3, 0.35, 0.4, 0.45, 0.5, 0.55, 0.6, 0.7, 0.8, 1];
  const [bare, burned] = lightens ? [dark, light] : [light, dark];
  return {
    name: `made up, ${middle.toFixed(2)} ± ${width.toFixed(2)}`,
    response: doses.map((dose) => [dose, bare + (burned - bare) * share(dose)]),
    ...{ bareColor: "#808080", markedColor: "#404040", source: "made up" },
  };
}

function drawMethod(draw: Draw, options: PrepareOptions): string {
  const resolved = resolveOptions(options);
  const fits = (id: string): boolean => {
    try {
      return fittingMethod(id, resolved).id === id;
    } catch (error) {
      if (error instanceof SpotpitchError) return false;
      throw error;
    }
  };
  return draw.among(halftoneMethods.filter(({ id }) => fits(id))).id;
}
