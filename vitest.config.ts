import { mkdtempSync } from "node:fs";
import { availableParallelism, tmpdir } from "node:os";
import { join } from "node:path";
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    globalSetup: ["tests/support/build.ts"],
    // No test reads what an earlier build has left in the user's cache.
    env: { XDG_CACHE_HOME: mkdtempSync(join(tmpdir(), "spotpitch-cache-")) },
    // One less than there are processors is the default: one, on a machine of two. Some tests wait more than they compute.
    maxWorkers: availableParallelism() + 1,
    testTimeout: 120_000,
    hookTimeout: 120_000,
    reporters: process.env.CI
      ? ["default", ["json", { outputFile: "tests/output/results.json" }]]
      : ["default"],
  },
});
