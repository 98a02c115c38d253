/**
 * `npm run demo` prepares each sample picture for a material of the workshop. It writes bitmaps, previews and reports to
 * demo-output/.
 */
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";

const command = fileURLToPath(new URL("../dist/cli/main.js", import.meta.url));
const here = fileURLToPath(new URL(".", import.meta.url));

const JOBS = [
  "harbour.jpg --width 120mm --spot 0.115mm --density 508 --material maple",
  "dog-on-quay.jpg --width 60mm --spot 0.1mm --material slate",
  "lighthouse.jpg --height 90mm --spot 0.08mm --material black-anodised-aluminium",
  "portrait.jpg --height 80mm --spot 0.115mm --density 10/mm --material vegetable-tanned-leather --oval --vignette 5mm --border 0.6mm",
  "nets.jpg --width 100mm --spot 0.115mm --density 150 --material coated-steel",
  "step-wedge.png --width 80mm --spot 0.115mm --density 508 --material cherry --no-auto-tone",
  "logo.svg --kind solid --width 30mm --spot 0.115mm --density 508",
];

for (const job of JOBS) {
  console.log(`\n$ npx spotpitch prepare sample-images/${job} --out demo-output`);
  const [photo, ...options] = job.split(" ");
  const { status } = spawnSync(
    process.execPath,
    [command, "prepare", here + photo, ...options, "--out", "demo-output"],
    { stdio: "inherit" },
  );
  if (status !== 0) process.exit(status ?? 1);
}
console.log(
  "\nOpen demo-output/*.report.html in a browser, or look at demo-output/*.preview.png. It shows the piece at the top, and below it the pixels that burn and their marks.",
);
