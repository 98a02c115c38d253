import {
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import envPaths from "env-paths";
import type { CurveStore } from "../pipeline/burn/burn-curve.js";

/** Raise when the files' content changes its meaning. What the numbers depend on is in their names. */
const FORMAT = 1;

/** Most curves kept, about 5 kB each; the longest unused go first. */
const MOST_CURVES = 256;

/**
 * Tone curves kept in the user's cache folder from one run to the next. A cache only: whatever goes wrong with it, curves are
 * measured anew.
 */
export function createCurveFolder(
  folder = join(envPaths("spotpitch", { suffix: "" }).cache, `tone-curves-${FORMAT}`),
): CurveStore {
  const pathOf = (key: string): string => join(folder, `${key}.json`);
  return {
    get(key) {
      try {
        const path = pathOf(key);
        const { fractions, luminance } = JSON.parse(readFileSync(path, "utf8"));
        if (!areNumbers(fractions) || !areNumbers(luminance) || fractions.length !== luminance.length) return;
        const now = new Date();
        utimesSync(path, now, now);
        return { fractions: Float64Array.from(fractions), luminance: Float64Array.from(luminance) };
      } catch {
        return;
      }
    },
    set(key, { fractions, luminance }) {
      try {
        mkdirSync(folder, { recursive: true });
        const temporary = join(folder, `.${key}.${process.pid}.part`);
        writeFileSync(temporary, JSON.stringify({ fractions: [...fractions], luminance: [...luminance] }));
        renameSync(temporary, pathOf(key));
        removeOldest(folder);
      } catch {
        // The next run measures again.
      }
    },
  };
}

const areNumbers = (value: unknown): value is number[] =>
  Array.isArray(value) && value.length >= 2 && value.every((each) => typeof each === "number");

function removeOldest(folder: string): void {
  const names = readdirSync(folder);
  if (names.length <= MOST_CURVES) return;
  const byAge = names
    .map((name) => ({ path: join(folder, name), usedMs: statSync(join(folder, name)).mtimeMs }))
    .sort((a, b) => a.usedMs - b.usedMs);
  for (const { path } of byAge.slice(0, names.length - MOST_CURVES)) rmSync(path, { force: true });
}
