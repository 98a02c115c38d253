/*
 * Whether the README of the batch names every key of `batch.json`, and every code of an upload that waits or was withdrawn.
 */
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { arrivingEntry, type UploadEntry, waitingEntry, withdrawnEntry } from "../../src/batch/entry.js";
import { batchJson } from "../../src/batch/lists.js";

const readme = readFileSync(new URL("../../src/batch/README.md", import.meta.url), "utf8");
const section = readme.split(/^## /m).find((text) => text.startsWith("batch.json\n")) ?? "";
const unnamed = (words: readonly string[]): string[] =>
  words.filter((word) => !section.includes(`\`${word}\``));

/** The compiler complains about a key that is missing here. */
const entryKeys: Record<keyof UploadEntry, true> = {
  ...{ file: true, state: true, grade: true, code: true, message: true, outputs: true },
  ...{ customerNote: true, customerMore: true, findings: true, warnings: true, figures: true },
  ...{ upload: true, piece: true, quantity: true, note: true, columns: true },
  ...{ contentSha256: true, pieceSha256: true, decision: true },
};
const decisionKeys: Record<keyof Required<UploadEntry>["decision"], true> = {
  ...{ verdict: true, note: true, by: true, at: true },
};

it("the README names every key of batch.json", () => {
  const text = batchJson({ verdicts: [], laid: { boards: [], notLaid: [] }, remaining: 1 });
  expect(unnamed(Object.keys(JSON.parse(text)))).toEqual([]);
  expect(unnamed(Object.keys({ ...entryKeys, ...decisionKeys }))).toEqual([]);
});

it("the README names every state and code of an upload that waits or was withdrawn", () => {
  const entries = [
    ...[waitingEntry("a.jpg", []), arrivingEntry("a.jpg", [])],
    ...[withdrawnEntry("a.jpg", [], "UPLOAD_GONE"), withdrawnEntry("a.jpg", [], "ROW_GONE")],
  ];
  expect(unnamed(entries.flatMap(({ state, code }) => [state, code]))).toEqual([]);
});
