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

/** Two columns of numbers or more, all of one length; undefined for anything else. */
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
  if (names.length <= MOST_CURVES) return;
  const byAge = names
    .map((name) => ({ path: join(folder, name), usedMs: statSync(join(folder, name)).mtimeMs }))
    .sort((a, b) => a.usedMs - b.usedMs);
  for (const { path } of byAge.slice(0, names.length - MOST_CURVES)) rmSync(path, { force: true });
}
