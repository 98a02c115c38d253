import { readFileSync } from "node:fs";

interface CheckValue {
  readonly id: string;
  readonly inputs: Readonly<Record<string, number>>;
  readonly expected: number | readonly number[];
}

const file = new URL("../data/check-values.json", import.meta.url);
const entries = JSON.parse(readFileSync(file, "utf8")) as readonly CheckValue[];

/** One entry of tests/data/check-values.json, where its source stands beside it. */
export function checkValue(id: string): CheckValue {
  const entry = entries.find((candidate) => candidate.id === id);
  if (!entry) throw new Error(`no check value "${id}"`);
  return entry;
}

/** The number expected, of an entry that has one. */
export function checkNumber(id: string): number {
  const { expected } = checkValue(id);
  if (typeof expected !== "number") throw new Error(`"${id}" expects several numbers`);
  return expected;
}
