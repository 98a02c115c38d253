import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    globalSetup: ["tests/support/build.ts"],
    testTimeout: 120_000,
    hookTimeout: 120_000,
    reporters: process.env.CI
      ? ["default", ["json", { outputFile: "tests/output/results.json" }]]
      : ["default"],
  },
});
