/**
 * How far an arrangement of dots can go: `npx tsx bench/search/limit.ts [--densities 254,508 --spot 0.115 --visits 1000]`.
 *
 * Classical direct binary search of flat tints and of a picture of smooth tones, on a torus and with a response that follows the dose, with
 * none of the product's kernels. Then simulated annealing (S. Kirkpatrick, C. D. Gelatt, M. P. Vecchi, Science 220, 671, 1983) with so
 * many visits of every pixel, and a second search. Where that brings nothing, dots are seen because they stand so far apart.
 */
import { parseArgs } from "node:util";
import { seededRandom } from "../../src/core/random.js";
import { markdownTable } from "../table.js";

const { values: asked } = parseArgs({
  options: {
    densities: { type: "string", default: "254,508" },
    spot: { type: "string", default: "0.115" },
    visits: { type: "string", default: "300" },
  },
});

const SIDE = 128;
const PIXELS = SIDE * SIDE;
/** The eye at 300 mm and 50 cd/m² (R. Näsänen, Human Factors 26, 1984): modulation exp(−f/decay). */
const DECAY_PER_MM = (0.525 * Math.log(50) + 3.91) / (600 * Math.tan(Math.PI / 360));
/** Temperatures, as shares of what a lone dot adds to J. Hotter ones undo the order of the start. */
const HOTTEST = 0.01;
const COLDEST = 0.0005;
const MOST_SWEEPS = 60;

/** J is the sum of error · kernel · error: the eye's modulation twice and the spot's twice. */
function kernelOf(pitchMm: number, spotMm: number): Float64Array {
  const sigmaMm = spotMm / 4;
  const frequency = (k: number): number => (k < SIDE / 2 ? k : k - SIDE) / (SIDE * pitchMm);
  const spectrum = Float64Array.from({ length: PIXELS }, (_, at) => {
    const perMm = Math.hypot(frequency(at % SIDE), frequency(Math.floor(at / SIDE)));
    return Math.exp((-2 * perMm) / DECAY_PER_MM - (2 * Math.PI * sigmaMm * perMm) ** 2);
  });
  const cosines = Float64Array.from({ length: SIDE }, (_, k) => Math.cos((2 * Math.PI * k) / SIDE));
  const half = transformRows(spectrum, cosines);
  return transformRows(half, cosines).map((value) => value / PIXELS);
}

/** The cosine sum of each row, written to columns. */
function transformRows(plane: Float64Array, cosines: Float64Array): Float64Array {
  const out = new Float64Array(PIXELS);
  for (let y = 0; y < SIDE; y++) {
    for (let x = 0; x < SIDE; x++) {
      let sum = 0;
      for (let k = 0; k < SIDE; k++) sum += plane[y * SIDE + k] * cosines[(k * x) % SIDE];
      out[x * SIDE + y] = sum;
    }
  }
  return out;
}

/** R. W. Floyd, L. Steinberg, Proc. SID 17(2), 75, 1976, with a second round that begins with the first one's last errors. */
function floydSteinberg(wanted: Float64Array): Uint8Array {
  const dots = new Uint8Array(PIXELS);
  const errors = new Float64Array(PIXELS);
  for (let n = 0; n < 2 * PIXELS; n++) {
    const at = n % PIXELS;
    const x = at % SIDE;
    const row = at - x;
    const asks = wanted[at] + errors[at];
    errors[at] = 0;
    dots[at] = asks > 0.5 ? 1 : 0;
    const error = (asks - dots[at]) / 16;
    const below = (row + SIDE) % PIXELS;
    const right = (x + 1) % SIDE;
    errors[row + right] += 7 * error;
    errors[below + ((x + SIDE - 1) % SIDE)] += 3 * error;
    errors[below + x] += 5 * error;
    errors[below + right] += error;
  }
  return dots;
}

class Torus {
  readonly pull = new Float64Array(PIXELS);

  constructor(
    private readonly kernel: Float64Array,
    private readonly wanted: Float64Array,
    private readonly dots: Uint8Array,
  ) {
    for (let at = 0; at < PIXELS; at++) this.addPull(at, dots[at] - wanted[at]);
  }

  /** Root of J by pixel. */
  rms(): number {
    const sum = this.pull.reduce((all, pull, at) => all + (this.dots[at] - this.wanted[at]) * pull, 0);
    return Math.sqrt(sum / PIXELS);
  }

  /** Direct binary search until nothing changes. */
  search(): void {
    for (let sweep = 0, changes = 1; changes > 0 && sweep < MOST_SWEEPS; sweep++) {
      changes = 0;
      for (let at = 0; at < PIXELS; at++) {
        let [best, bestOther] = [-1e-12, -1];
        for (let n = 0; n < 9; n++) {
          const other = neighbour(at, n);
          const change = this.changeOf(at, other);
          if (change < best) [best, bestOther] = [change, other];
        }
        if (bestOther < 0) continue;
        this.keep(at, bestOther);
        changes++;
      }
    }
  }

  anneal(visits: number, random: () => number): void {
    const lone = this.kernel[0];
    for (let visit = 0; visit < visits; visit++) {
      const temperature = lone * HOTTEST * (COLDEST / HOTTEST) ** (visit / visits);
      for (let at = 0; at < PIXELS; at++) {
        const other = neighbour(at, Math.floor(9 * random()));
        if (this.changeOf(at, other) < -temperature * Math.log(1 - random())) this.keep(at, other);
      }
    }
  }

  /** Change of J if a pixel changes, together with another one if that is not the same. */
  private changeOf(at: number, other: number): number {
    const { kernel, pull, dots } = this;
    const step = 1 - 2 * dots[at];
    if (other === at) return kernel[0] + 2 * step * pull[at];
    if (dots[other] === dots[at]) return Number.POSITIVE_INFINITY;
    return 2 * (kernel[0] - kernel[between(at, other)] + step * (pull[at] - pull[other]));
  }

  private keep(at: number, other: number): void {
    const step = 1 - 2 * this.dots[at];
    this.dots[at] += step;
    this.addPull(at, step);
    if (other === at) return;
    this.dots[other] -= step;
    this.addPull(other, -step);
  }

  private addPull(at: number, by: number): void {
    const { kernel, pull } = this;
    const x = at % SIDE;
    const y = (at - x) / SIDE;
    for (let v = 0; v < SIDE; v++) {
      const from = ((v + SIDE - y) % SIDE) * SIDE;
      const row = v * SIDE;
      for (let u = 0; u < x; u++) pull[row + u] += by * kernel[from + SIDE - x + u];
      for (let u = x; u < SIDE; u++) pull[row + u] += by * kernel[from + u - x];
    }
  }
}

/** One of the 3 × 3 pixels around, row by row: number 4 is the pixel itself. */
function neighbour(at: number, n: number): number {
  const x = ((at % SIDE) + (n % 3) - 1 + SIDE) % SIDE;
  const y = (Math.floor(at / SIDE) + Math.floor(n / 3) - 1 + SIDE) % SIDE;
  return y * SIDE + x;
}

/** Place in the kernel for two pixels. */
function between(at: number, other: number): number {
  const x = ((other % SIDE) - (at % SIDE) + SIDE) % SIDE;
  const y = (Math.floor(other / SIDE) - Math.floor(at / SIDE) + SIDE) % SIDE;
  return y * SIDE + x;
}

const wave = (at: number): number => Math.cos((2 * Math.PI * at) / SIDE);
const pictures = {
  ...Object.fromEntries([0.1, 0.2, 0.3, 0.4].map((tint) => [`tint ${100 * tint} %`, () => tint])),
  "tones of 15 to 85 %": (at: number) => 0.5 - 0.35 * wave(at % SIDE) * wave(Math.floor(at / SIDE)),
};

const rows: string[][] = [];
for (const linesPerInch of asked.densities.split(",").map(Number)) {
  const kernel = kernelOf(25.4 / linesPerInch, Number(asked.spot));
  for (const [name, toneAt] of Object.entries(pictures)) {
    const wanted = Float64Array.from({ length: PIXELS }, (_, at) => toneAt(at));
    const dots = floydSteinberg(wanted);
    const rms = (): number => new Torus(kernel, wanted, dots).rms();
    const diffused = rms();
    new Torus(kernel, wanted, dots).search();
    const searched = rms();
    const torus = new Torus(kernel, wanted, dots);
    torus.anneal(Number(asked.visits), seededRandom(1));
    torus.search();
    const ratios = [diffused / searched, diffused / rms(), rms() / searched];
    rows.push([name, String(linesPerInch), ...ratios.map((ratio) => ratio.toFixed(2))]);
  }
}
console.log(
  markdownTable(
    [
      ...["picture", "lines per inch", "search, times below floyd-steinberg"],
      ...["annealed, times below", "annealed, share of the search's error"],
    ],
    rows,
  ),
);
