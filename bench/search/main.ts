/**
 * What the search brings: `npm run bench:search [-- allium-oreophilum … --densities 254,508 --spots 0.115 --side 384 --brute]`.
 * For each photograph, material, density and spot: the nominal and the expected error of the search with both aims, of compensated
 * Floyd–Steinberg, and of the best other method in each. With `--brute`, the nominal errors by tests/reference/simulate.py; with
 * `--brute --from 150`, those seen from 150 mm instead of 300.
 */
import { parseArgs } from "node:util";
import { halftoneMethods } from "../../src/4-halftone/catalogue.js";
import type { ResponsePoints } from "../../src/core/material/response.js";
import { type PrepareOptions, prepare } from "../../src/index.js";
import { simulate } from "../../tests/pipeline/simulate.js";
import { comparedMaterials } from "../materials.js";
import { middleOf } from "../middle-of-photo.js";

const { values: asked, positionals } = parseArgs({
  options: {
    densities: { type: "string", default: "254,339,508,762" },
    spots: { type: "string", default: "0.08,0.115,0.2" },
    materials: { type: "string", default: "gradual,steep" },
    methods: { type: "string" },
    aims: { type: "string", default: "nominal,robust" },
    side: { type: "string", default: "256" },
    brute: { type: "boolean", default: false },
    from: { type: "string", default: "300" },
  },
  allowPositionals: true,
});
const PHOTOS =
  positionals.length > 0
    ? positionals
    : ["airplane-from-above", "allium-oreophilum", "black-canyon", "locomotion-house-cat", "nagasaki-boats"];
const SIDE_PX = Number(asked.side);
/** All that may come near: the others are worse everywhere (`npm run bench:methods`). */
const OTHERS = asked.methods?.split(",") ?? [
  ...["floyd-steinberg", "dose-feedback", "ostromoukhov", "zhou-fang", "blue-noise", "green-noise"],
  ...["clustered-dot", "jarvis-judice-ninke", "sierra", "knuth"],
];
const known = new Set(halftoneMethods.map(({ id }) => id));
const unknown = OTHERS.filter((id) => !known.has(id));
if (unknown.length > 0) throw new Error(`No such methods: ${unknown.join(", ")}.`);

interface Errors {
  readonly method: string;
  readonly nominal: number;
  readonly expected: number;
}

interface Setting {
  readonly photo: Uint8Array;
  readonly material: NonNullable<PrepareOptions["material"]> & object;
  readonly linesPerInch: number;
  readonly spotMm: number;
}

async function errorsOf(
  { photo, material, linesPerInch, spotMm }: Setting,
  more: Pick<PrepareOptions, "method" | "aim">,
): Promise<Errors> {
  const pitchMm = 25.4 / linesPerInch;
  const sideMm = SIDE_PX * pitchMm;
  const { report, burnFile } = await prepare(photo, {
    ...{ linesPerInch, spotMm, material, widthMm: sideMm, heightMm: sideMm, autoTone: false },
    ...more,
  });
  const { prediction } = report;
  if (!prediction || !("response" in material)) throw new Error("no prediction");
  const brute = asked.brute
    ? await simulate({
        ...{ burnFile, photo, pitchMm, spotMm, viewLuminanceCdM2: 50, doseSpread: 0.1 },
        response: material.response as ResponsePoints,
        machine: { viewDistanceMm: Number(asked.from) },
      })
    : undefined;
  return {
    method: more.method ?? "auto",
    nominal: brute?.visualErrorRms ?? prediction.visualErrorRms,
    expected: prediction.expectedVisualError,
  };
}

const least = (all: readonly Errors[], key: "nominal" | "expected"): Errors =>
  all.reduce((best, each) => (each[key] < best[key] ? each : best));

const shown = ({ nominal, expected }: Errors): string => `${nominal.toFixed(3)} / ${expected.toFixed(2)}`;

console.log(
  "| photograph | material | lines per inch | spot | search, nominal | search, robust | floyd-steinberg | least nominal | least expected | times below floyd-steinberg | least nominal | least expected | nominal of robust, share of that |",
);
console.log("|---|---|---|---|---|---|---|---|---|---|---|---|---|");
for (const name of PHOTOS) {
  const photo = await middleOf(name, SIDE_PX);
  for (const [shape, material] of Object.entries(comparedMaterials)) {
    if (!asked.materials.split(",").includes(shape)) continue;
    for (const linesPerInch of asked.densities.split(",").map(Number)) {
      for (const spotMm of asked.spots.split(",").map(Number)) {
        const setting: Setting = { photo, material, linesPerInch, spotMm };
        const others: Errors[] = [];
        for (const method of OTHERS) others.push(await errorsOf(setting, { method }));
        const [plain] = others;
        const finest = least(others, "nominal");
        const steadiest = least(others, "expected");
        const searched = new Map<string, Errors>();
        for (const aim of ["nominal", "robust"] as const) {
          if (!asked.aims.includes(aim)) continue;
          searched.set(aim, await errorsOf(setting, { method: "burn-search", aim }));
        }
        const [nominal, robust] = ["nominal", "robust"].map((aim) => searched.get(aim));
        const cells = [
          ...[name, shape, linesPerInch, spotMm],
          ...[nominal, robust].map((each) => (each ? shown(each) : "")),
          shown(plain),
          `${finest.method} ${shown(finest)}`,
          `${steadiest.method} ${shown(steadiest)}`,
          nominal ? (plain.nominal / nominal.nominal).toFixed(2) : "",
          nominal ? (finest.nominal / nominal.nominal).toFixed(2) : "",
          robust ? (steadiest.expected / robust.expected).toFixed(2) : "",
          robust ? (robust.nominal / steadiest.nominal).toFixed(2) : "",
        ];
        console.log(`| ${cells.join(" | ")} |`);
      }
    }
  }
}
