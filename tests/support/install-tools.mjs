/**
 * Programs that tests hold our files and figures against, installed where that is allowed (Debian, as root) and named where
 * it is not. A test whose tool is still missing is skipped by its name; under CI it fails.
 */
import { spawnSync } from "node:child_process";

/** [command, arguments that make it answer, Debian packages] */
const TOOLS = [
  ["identify", ["-version"], ["imagemagick"]],
  ["gm", ["version"], ["graphicsmagick"]],
  ["pngcheck", ["-h"], ["pngcheck"]],
  ["tiffinfo", ["-h"], ["libtiff-tools"]],
  ["pamditherbw", ["-version"], ["netpbm"]],
  ["gs", ["--version"], ["ghostscript"]],
  ["gmic", ["version"], ["gmic"]],
  ["/usr/bin/python3", ["-c", "import numpy, scipy, PIL"], ["python3-numpy", "python3-scipy", "python3-pil"]],
  ["/usr/bin/python3", ["-c", "import cv2"], ["python3-opencv"]],
  ["scanin", ["-?"], ["argyll"]],
  ["chromium", ["--version"], ["chromium"]],
  ["pdfimages", ["-v"], ["poppler-utils"]],
  ["redis-server", ["--version"], ["redis-server"]],
  ["openssl", ["version"], ["openssl"]],
  ["/usr/bin/time", ["-f", "%e", "true"], ["time"]],
];

// tiffinfo and pngcheck answer their usage with a status of their own: being there is what counts, except for imports.
const answers = ([command, args]) => {
  const { error, status } = spawnSync(command, args, { stdio: "ignore" });
  return error === undefined && (args[0] !== "-c" || status === 0);
};

const missing = TOOLS.filter((tool) => !answers(tool));
if (missing.length > 0) {
  const packages = missing.flatMap(([, , names]) => names);
  const allowed =
    process.getuid?.() === 0 && spawnSync("apt-get", ["--version"], { stdio: "ignore" }).status === 0;
  if (allowed) {
    console.log(`Installing reference tools: ${packages.join(" ")}`);
    const env = { ...process.env, DEBIAN_FRONTEND: "noninteractive" };
    spawnSync("apt-get", ["update", "-qq"], { stdio: "ignore", env });
    spawnSync("apt-get", ["install", "-y", "-qq", "--no-install-recommends", ...packages], {
      stdio: ["ignore", "ignore", "inherit"],
      env,
    });
  }
  for (const tool of TOOLS.filter((candidate) => !answers(candidate))) {
    console.log(`Missing ${tool[0]} (${tool[2].join(", ")}): tests that need it are skipped by name.`);
  }
}
