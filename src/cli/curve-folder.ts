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
import type { CurveStore, Table } from "../pipeline/kept-tables.js";

/** Raise this when the meaning of the files' content changes. Their names contain everything else that the numbers depend on. */
const FORMAT = 1;

/** Maximum number of stored curves, about 5 kB each. Those unused for the longest time are removed first. */
const MAX_CURVES = 256;

/**
 * Tone curves in the user's cache folder, kept from one run to the next. It is only a cache: after any failure, curves are measured
 * again.
 */
export function createCurveFolder(
  folder = join(envPaths("spotpitch", { suffix: "" }).cache, `tone-curves-${FORMAT}`),
): CurveStore {
  const pathOf = (key: string): string => join(folder, `${key}.json`);
  return {
    get(key) {
      try {
        const path = pathOf(key);
        const table = tableOf(JSON.parse(readFileSync(path, "utf8")));
        const now = new Date();
        if (table) utimesSync(path, now, now);
        return table;
      } catch {
        return;
      }
    },
    set(key, table) {
      try {
        mkdirSync(folder, { recursive: true });
        const temporary = join(folder, `.${key}.${process.pid}.part`);
        const columns = Object.entries(table).map(([name, values]) => [name, [...values]]);
        writeFileSync(temporary, JSON.stringify(Object.fromEntries(columns)));
        renameSync(temporary, pathOf(key));
        removeOldest(folder);
      } catch {
        // The next run measures again.
      }
    },
  };
}

/** Two or more columns of numbers of the same length; undefined for anything else. */
function tableOf(content: object): Table | undefined {
  const columns: [string, unknown][] = Object.entries(content);
  const lists = columns.flatMap(([name, values]) => (areNumbers(values) ? [[name, values] as const] : []));
  const even =
    lists.length === columns.length && lists.every(([, values]) => values.length === lists[0][1].length);
  if (!even || lists.length < 2) return;
  return Object.fromEntries(lists.map(([name, values]) => [name, Float64Array.from(values)]));
}

const areNumbers = (value: unknown): value is number[] =>
  Array.isArray(value) && value.length > 0 && value.every((each) => typeof each === "number");

function removeOldest(folder: string): void {
  const names = readdirSync(folder);
  if (names.length <= MAX_CURVES) return;
  const byAge = names
    .map((name) => ({ path: join(folder, name), usedMs: statSync(join(folder, name)).mtimeMs }))
    .sort((a, b) => a.usedMs - b.usedMs);
  for (const { path } of byAge.slice(0, names.length - MAX_CURVES)) rmSync(path, { force: true });
}
