import { mkdtempSync } from "node:fs";
import { availableParallelism, tmpdir } from "node:os";
import { join } from "node:path";
import { defineConfig } from "vitest/config";

/** These replace a module or the clock, so they may share neither with other files. */
const ISOLATED = [
  "tests/cli/progress.test.ts",
  "tests/cli/batch/read-upload.test.ts",
  "tests/pipeline/method-tie.test.ts",
  "tests/pipeline/search/time-limit.test.ts",
];

export default defineConfig({
  test: {
    projects: [
      {
        extends: true,
        // Loading the same modules for every file anew is a sixth of the time of a run.
        test: { name: "all", include: ["tests/**/*.test.ts"], exclude: ISOLATED, isolate: false },
      },
      { extends: true, test: { name: "isolated", include: ISOLATED } },
    ],
    // What is built runs as it is: to transform it once more takes seconds.
    server: { deps: { external: [/\/dist\//] } },
    globalSetup: ["tests/support/build.ts"],
    // No test reads what an earlier build has left in the user's cache, or the machine that the user keeps.
    env: {
      XDG_CACHE_HOME: mkdtempSync(join(tmpdir(), "spotpitch-cache-")),
      XDG_CONFIG_HOME: mkdtempSync(join(tmpdir(), "spotpitch-config-")),
    },
    // One less than there are processors is the default: one, on a machine of two. Some tests wait more than they compute.
    maxWorkers: availableParallelism() + 1,
    testTimeout: 120_000,
    hookTimeout: 120_000,
    reporters: process.env.CI
      ? ["default", ["json", { outputFile: "tests/output/results.json" }]]
      : ["default"],
  },
});
