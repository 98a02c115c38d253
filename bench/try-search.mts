import * as stages from "../src/stages.js";
import { createJob } from "../src/pipeline/job.js";
import { resolveOptions } from "../src/options/options.js";
import { searchPlan, type SearchAim } from "../src/pipeline/search/search-plan.js";
import { TileWork, type ToneFit, type ToneSums } from "../src/pipeline/search/tile-work.js";
const BLOCK_PX = 8;
import { middleOf } from "../tests/pipeline/photograph.js";
import { gradualPoints, steepPoints } from "../tests/support/materials.js";
import { packBitmap } from "../src/core/packed-bits.js";
import { simulate } from "../tests/pipeline/simulate.js";
import { encodeBitmapPng } from "../src/6-report/files/bitmap-png.js";

const arg = (name: string, otherwise: string) => { const i = process.argv.indexOf(`--${name}`); return i < 0 ? otherwise : process.argv[i + 1]; };
const lpi = Number(arg("lpi", "508")), matName = arg("mat", "gradual"), aim = arg("aim", "nominal") as SearchAim;
const start = arg("start", "floyd-steinberg"), N = Number(arg("n", "256")), photoName = arg("photo", "nagasaki-boats"), spotMm = Number(arg("spot", "0.115"));
const passes = Number(arg("passes", "8")), sweeps = Number(arg("sweeps", "1"));
const pitchMm = 25.4 / lpi;
const response = matName === "steep" ? steepPoints : gradualPoints;
const material = { bareColor: "#808080", markedColor: "#404040", source: "made up", name: matName, response };
const png = await middleOf(photoName, N);
const options = { widthMm: N * pitchMm, linesPerInch: lpi, spotMm, material, method: start, autoTone: false, sharpen: 0 } as never;
const job = createJob(resolveOptions(options));
const photo = await stages.decodePhoto(png);
const toned = stages.adjustTones(photo.luminance, { autoTone: false });
const luminance = stages.resample(toned, { columns: N, rows: N, window: { left: 0, top: 0, right: N, bottom: N, x: 0, y: 0, width: N, height: N } as never, pitchMm });
const sjob = { spotMm, material, method: start, pitchMm };
const bitmap0 = stages.halftone(stages.compensate(luminance, sjob as never), sjob as never);
const lum = stages.denseData(luminance) as Float32Array;
const wanted = Uint16Array.from(lum, (v) => Math.round(Math.min(1, Math.max(0, v)) * 65535));
let codes = Uint8Array.from(stages.denseData(bitmap0) as Uint8Array);
const target = stages.wantedLuminance(luminance, { spotMm, material, pitchMm } as never);
const judge = (c: Uint8Array) => {
  const b = stages.plane("bitmap", c, N, N, job.options.pitch) as never;
  return [0.9, 1, 1.1].map((f) => {
    const mat = { ...material, response: response.map(([d, l]) => [d / f, l]) as never };
    const pr = stages.predict(b, { pitchMm, spotMm, material: mat } as never);
    return stages.visualError(pr, target, { pitchMm } as never).rms;
  });
};
const show = (j: number[]) => `${j[1].toFixed(3)} / mean ${((j[0] + j[1] + j[2]) / 3).toFixed(3)}`;
console.log("start", start, show(judge(codes)));
const plan = searchPlan(job, aim, { widthMm: 60, heightMm: 60 });
console.log("samples", plan.model.samplesAlong, plan.model.samplesAcross, "reach", plan.model.evenLines.before, plan.model.across.before, "eye", plan.model.eye.reachAlong, "within", plan.within.toFixed(4), plan.doses.map((d) => d.toFixed(3)).join(), "model samples", job.model.plan.samplesAlong, job.model.plan.samplesAcross);
const moves = new Uint8Array(N * N).fill(2);
const fitOf = (s: ToneSums[]): ToneFit[] => plan.doses.map((_, k) => {
  const t = (f: (x: ToneSums) => number) => s.reduce((a, x) => a + f(x), 0);
  const n = t((x) => x.pixels), X = t((x) => x.wanted) / n, XX = t((x) => x.wantedSquares) / n - X * X, E = t((x) => x.errors[k]) / n, EX = t((x) => x.withWanted[k]) / n - E * X;
  return { slope: EX / XX, offset: E - (EX / XX) * X };
});
const TILE = Number(arg("tile", "384"));
const none = plan.doses.map(() => ({ offset: 0, slope: 0 }));
let fits = none;
const tilesOf = (pass: number) => { const out = []; const shift = Math.floor((pass * 0.382 * TILE) / BLOCK_PX) * BLOCK_PX % TILE; for (let y = -shift; y < N; y += TILE) for (let x = -shift; x < N; x += TILE) { const l = Math.max(0, x), t = Math.max(0, y); const c = { left: l, top: t, columns: Math.min(N, x + TILE) - l, rows: Math.min(N, y + TILE) - t }; if (c.columns > 0 && c.rows > 0) out.push(c); } return out; };
let total = 0;
for (let pass = 0; pass < passes; pass++) {
  const t0 = performance.now();
  const piece = { columns: N, rows: N, closed: false, codes, wanted, moves };
  const work = new TileWork(job, plan, piece, 512);
  const tiles = tilesOf(pass);
  if (aim === "robust") fits = fitOf(tiles.map((c) => work.look(c, none).sums));
  const out = Uint8Array.from(codes);
  let changes = 0, trials = 0, gain = 0; const sums: ToneSums[] = [];
  for (const core of tiles) { const s = work.search(core, fits, sweeps, out); changes += s.changes; trials += s.trials; gain += s.gain; sums.push(s.sums); }
  const rms = plan.doses.map((_, k) => Math.sqrt(sums.reduce((a, s) => a + s.squares[k], 0) / (N * N)).toFixed(3));

  codes = out;
  const dt = (performance.now() - t0) / 1000; total += dt;
  console.log("pass", pass, "before rms", rms.join(" "), "changes/px", (changes / N / N).toFixed(4), "trials/px", (trials / N / N).toFixed(2), "gain", gain.toFixed(1), "judge", show(judge(codes)), `${dt.toFixed(2)} s`);
  if (changes < 0.0005 * N * N) break;
}
console.log("total", total.toFixed(2), "s", (total / N / N * 1e6).toFixed(1), "us/px");
if (process.argv.includes("--brute")) {
  const burnFile = await encodeBitmapPng(packBitmap(codes, N, N), job.options.pitch as never);
  for (const s of [0.1]) console.log("brute", await simulate({ burnFile, photo: png, pitchMm, spotMm, response, viewLuminanceCdM2: 50, doseSpread: s } as never));
}
