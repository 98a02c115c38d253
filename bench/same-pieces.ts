/**
 * Compares this build with an earlier one: about forty jobs of all kinds, run by the built command. Their files are kept and
 * compared.
 *
 *     npm run bench:same -- --keep DIR                    run the jobs with this build and keep their files
 *     npm run bench:same -- --against DIR [--only plan]   run them again, and list every difference
 *
 * Bitmaps, previews, contact sheets and the pictures inside pages are compared byte for byte. Reports, plans and comparisons are
 * compared by their figures: every number, boolean and code. Sentences may differ. Exit status 1 if something differs.
 */
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";

const root = fileURLToPath(new URL("../", import.meta.url));
const sample = (name: string): string => join(root, "sample-images", name);
const dataset = (name: string): string =>
  join(root, "node_modules/@stdlib", `datasets-img-${name}`, "data/image.jpg");

const [harbour, dog, lighthouse, portrait, nets] = [
  "harbour.jpg",
  "dog-on-quay.jpg",
  "lighthouse.jpg",
  "portrait.jpg",
  "nets.jpg",
].map(sample);
const logo = sample("logo.svg");
const wedge = sample("step-wedge.png");
const spot = "--spot 0.115";
const small = `--width 40mm ${spot}`;

/** Material file for these jobs: steep, with its own reference pitch. */
const OWN_MATERIAL = {
  name: "enamel plate",
  response: [
    [0, 0.7],
    [0.4, 0.68],
    [0.55, 0.2],
    [0.7, 0.08],
    [1.2, 0.07],
  ],
  bareColor: "#e8e4da",
  markedColor: "#2a2622",
  referencePitchMm: 0.1,
  charDose: 1.5,
  source: "measured 2026-05-01 on scrap",
  hazards: ["Fumes: run the extraction."],
};

interface Job {
  readonly name: string;
  readonly words: readonly string[];
}

function jobsFor(work: string): Job[] {
  const material = join(work, "enamel.json");
  const config = join(work, "config.json");
  const sheet = join(work, "jobs.csv");
  writeFileSync(material, JSON.stringify(OWN_MATERIAL));
  writeFileSync(config, JSON.stringify({ width: "35mm", density: "10/mm", mirror: true, gamma: 1.2 }));
  writeFileSync(sheet, "file,width,material,note\nnets.jpg,30mm,slate,net loft\nlogo.svg,20mm,maple,\n");
  /** A command's jobs. Options are separated by spaces; `last` is for a path, which may contain some. */
  const jobsOf =
    (command: string, ...first: string[]) =>
    (name: string, photo: string | undefined, options: string, ...last: string[]): Job => ({
      name: `${command}-${name}`,
      words: [command, ...first, ...(photo ? [photo] : []), ...options.split(" "), ...last],
    });
  const prepare = jobsOf("prepare");
  const plan = jobsOf("plan", "--json");
  const compare = jobsOf("compare");
  return [
    prepare("maple-254", harbour, `${small} --density 254`),
    prepare("maple-508-large", harbour, `--width 120 ${spot} --density 508`),
    prepare("slate", dog, "--width 60 --spot 0.1 --material slate"),
    prepare("elliptical", lighthouse, "--height 30 --spot 0.09x0.14 --density 363 --density-along 635"),
    prepare("unequal-pitch", dog, `${small} --density 254 --density-along 508 --method floyd-steinberg`),
    prepare(
      "oval",
      portrait,
      `--height 45 ${spot} --density 10/mm --material vegetable-tanned-leather --oval --vignette 5 --border 0.6 --border-gap 0.5`,
    ),
    prepare("gaps", nets, `--width 50 ${spot} --density 150 --material coated-steel`),
    prepare("no-auto-tone", wedge, `--width 50 ${spot} --density 508 --material cherry --no-auto-tone`),
    prepare("plain", harbour, `${small} --density 508 --no-compensate --method stucki`),
    prepare("raster", harbour, `${small} --density 300 --scan raster --method jarvis-judice-ninke`),
    prepare("blue-noise", harbour, `${small} --density 300 --method blue-noise`),
    prepare("green-noise", harbour, `${small} --density 400 --method green-noise --clumping 1.4 --seed 7`),
    prepare(
      "clustered-dot",
      harbour,
      `${small} --density 508 --method clustered-dot --screen-ruling 80 --screen-angle 30`,
    ),
    prepare("dose-feedback", harbour, `${small} --density 508 --method dose-feedback`),
    prepare("dot-diffusion", harbour, `${small} --density 300 --method dot-diffusion`),
    prepare("levels-16", harbour, `${small} --density 254 --levels 16`),
    prepare("levels-256", portrait, `${small} --density 254 --levels 256 --material coated-steel`),
    prepare("firing", harbour, `${small} --density 400 --firing-lag 80us --line-shift 0.02 --speed 400`),
    prepare("one-way", harbour, `${small} --density 300 --firing-lag 80us --one-way --mirror`),
    prepare(
      "tones",
      dog,
      `${small} --density 300 --brightness 10 --contrast 20 --gamma 1.3 --local-contrast 0.6 --sharpen 0.8 --clip 1%`,
    ),
    prepare("luminance-map", dog, `${small} --density 300 --tone-map luminance --negative --material slate`),
    prepare("crop-cover", harbour, `--width 30 --height 40 ${spot} --crop 10%,5%,80%,60% --focus 40%,30%`),
    prepare("contain", harbour, `--width 30 --height 40 ${spot} --fit contain --border 0.5`),
    prepare("cylinder", nets, "--around 40mm --height 30mm --density 254"),
    prepare("cone-flat", nets, "--around 44..36mm --height 30mm --density 254 --material slate"),
    prepare(
      "cone-level",
      nets,
      "--around 44..36mm --height 30mm --density 254 --cone level --method blue-noise",
    ),
    prepare("solid", logo, `--width 30 ${spot} --density 508 --kind solid`),
    prepare("solid-slate-negative", logo, `--width 30 ${spot} --density 254 --material slate --negative`),
    prepare(
      "solid-threshold",
      logo,
      `--width 30 ${spot} --density 254 --kind solid --method threshold --border 1`,
    ),
    prepare("bitmap-only-tiff", harbour, `--width 150 ${spot} --density 508 --bitmap-only --format tiff`),
    prepare("bmp-config", dog, "--format bmp --config", config),
    prepare("own-material", portrait, `${small} --density 500 --dose-spread 4% --material`, material),
    prepare("dataset-boats", dataset("nagasaki-boats"), "--width 60 --material cherry --view-distance 50cm"),
    prepare(
      "dataset-canyon-steep",
      dataset("black-canyon"),
      `${small} --density 508 --material coated-steel`,
    ),
    plan("photo", portrait, `--width 30mm ${spot}`),
    plan(
      "photo-tones",
      dog,
      `--width 25mm ${spot} --material coated-steel --densities 150,254,300,508 --tones 8@0.25mm --minutes 5`,
    ),
    plan("built-in", undefined, "--width 20mm --height 20mm --spot 0.08,0.115"),
    plan(
      "strip",
      undefined,
      `--kind strip --width 60 --height 40 --material coated-steel --against 800 ${spot}`,
    ),
    plan(
      "strip-optics",
      undefined,
      "--kind strip --width 60 --height 40 --material coated-steel --wavelength 10.6um --m2 1.2 --beam-diameter 7mm --focal-length 1.5in,2in --lens plano-convex",
    ),
    plan("shade", undefined, `--kind shade --width 60 --height 40 --material maple ${spot}`),
    compare("methods", dog, `--width 25mm ${spot} --density 300`),
    compare(
      "densities",
      portrait,
      `--width 20mm ${spot} --density 254,400 --method auto,green-noise --mirror`,
    ),
    {
      name: "batch",
      words: [
        "batch",
        sample(""),
        ..."--width 25mm --material maple --density 254 --sheet".split(" "),
        sheet,
      ],
    },
  ];
}

/** Runs a job into its folder, and writes its exit status there. */
function runJob({ words }: Job, folder: string): void {
  mkdirSync(folder, { recursive: true });
  const command = join(root, "dist/cli/main.js");
  const { status, stdout, stderr } = spawnSync(process.execPath, [command, ...words, "--out", folder], {
    encoding: "utf8",
    maxBuffer: 1 << 28,
    env: { ...process.env, XDG_CACHE_HOME: join(folder, "../cache") },
  });
  if (words.includes("--json")) writeFileSync(join(folder, "stdout.json"), stdout);
  if (status !== 0 && status !== 4) console.log(`${words.join(" ")}\n${stderr}`);
  writeFileSync(join(folder, "exit.json"), JSON.stringify({ status }));
}

/** Keys that may change: sentences with their figures, and values that are new in every run. */
const WORDS = new Set([
  "message",
  "data",
  "reason",
  "reasons",
  "whatWouldChangeIt",
  "cautions",
  "customerNote",
  "source",
  "version",
]);

/** Leaves of a JSON value by their path, without sentences. */
function leavesOf(value: unknown, path = ""): Map<string, unknown> {
  const leaves = new Map<string, unknown>();
  if (typeof value !== "object" || value === null) return leaves.set(path, value);
  for (const [key, part] of Object.entries(value)) {
    if (WORDS.has(key)) continue;
    for (const [below, leaf] of leavesOf(part, `${path}/${key}`)) leaves.set(below, leaf);
  }
  return leaves;
}

function figureDifferences(before: string, now: string): string[] {
  const [old, fresh] = [before, now].map((file) => leavesOf(JSON.parse(readFileSync(file, "utf8"))));
  const paths = [...new Set([...old.keys(), ...fresh.keys()])];
  return paths
    .filter((path) => old.get(path) !== fresh.get(path))
    .map((path) => `${path}: ${JSON.stringify(old.get(path))} → ${JSON.stringify(fresh.get(path))}`);
}

const hashOf = (file: string): string => createHash("sha256").update(readFileSync(file)).digest("hex");
const filesBelow = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && !entry.parentPath.includes(".spotpitch"))
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1))
    .sort();

/** Pictures inside a page. */
const picturesIn = (page: string): string[] =>
  readFileSync(page, "utf8").match(/data:image\/(?!svg)[^"')\s]+/g) ?? [];

/** Differences between the files of a job, one line each. CSV files contain sentences and are not compared. */
function differences(before: string, now: string): string[] {
  const names = [...new Set([...filesBelow(before), ...filesBelow(now)])];
  return names.flatMap((name) => {
    const [old, fresh] = [join(before, name), join(now, name)];
    if (!existsSync(old)) return [`${name} is new`];
    if (!existsSync(fresh)) return [`${name} is missing`];
    if (name.endsWith(".json")) return figureDifferences(old, fresh).map((line) => `${name} ${line}`);
    if (name.endsWith(".html")) {
      return String(picturesIn(old)) === String(picturesIn(fresh)) ? [] : [`${name} has other pictures`];
    }
    if (name.endsWith(".csv")) return [];
    return hashOf(old) === hashOf(fresh) ? [] : [`${name} has other bytes`];
  });
}

const { values } = parseArgs({
  options: { keep: { type: "string" }, against: { type: "string" }, only: { type: "string", default: "" } },
});
const { keep, against, only } = values;
if ((keep === undefined) === (against === undefined)) throw new Error("Give --keep DIR or --against DIR.");
const folder = keep ?? join(root, "tests/output/same-pieces");
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });
let differing = 0;
const jobs = jobsFor(folder).filter(({ name }) => name.includes(only));
for (const job of jobs) {
  runJob(job, join(folder, job.name));
  const found = against === undefined ? [] : differences(join(against, job.name), join(folder, job.name));
  if (found.length > 0) differing++;
  console.log(`${found.length === 0 ? "same" : "DIFFERS"}  ${job.name}`);
  for (const line of found.slice(0, 12)) console.log(`         ${line}`);
  if (found.length > 12) console.log(`         and ${found.length - 12} more`);
}
console.log(
  `${jobs.length - differing} of ${jobs.length} jobs ${against === undefined ? "kept" : "are the same"}`,
);
process.exitCode = differing > 0 ? 1 : 0;
