import { readFileSync } from "node:fs";

interface Table {
  readonly name: string;
  readonly data: unknown;
}

const file = new URL("../data/halftone-tables.json", import.meta.url);
const { tables } = JSON.parse(readFileSync(file, "utf8")) as { tables: readonly Table[] };

/** The data of one table of tests/data/halftone-tables.json, where its published source stands beside it. */
export function publishedTable<Data>(name: string): Data {
  const table = tables.find((candidate) => candidate.name === name);
  if (!table) throw new Error(`no table "${name}"`);
  return table.data as Data;
}
