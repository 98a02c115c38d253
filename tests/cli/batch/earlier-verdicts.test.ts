import { expect, it } from "vitest";
import { refusedEntry } from "../../../src/batch/entry.js";
import { verdictOf } from "../../../src/batch/lists.js";
import { refusedRecord } from "../../../src/batch/records.js";
import { withEarlier } from "../../../src/cli/batch/earlier-verdicts.js";
import type { Job } from "../../../src/cli/batch/jobs.js";
import { METRIC } from "../../../src/core/shown-units.js";
import { resolveOptions } from "../../../src/options/options.js";

const options = { widthMm: 20 };
const jobOf = (id: string): Job => ({
  ...{ upload: { id, path: `/uploads/${id}` }, options, resolved: resolveOptions(options) },
  ...{ asGiven: { units: METRIC }, output: id, jobSha256: "new", copies: 1 },
  fromSheet: { note: "for Friday" },
});
/** By an earlier run: of the same job, or of one with other options. */
const recordOf = (id: string, jobSha256: string) =>
  refusedRecord(id, { refused: { code: "INPUT_DAMAGED", message: "" }, contentSha256: "1" }, jobSha256);

it("a pass that is stopped early lists what earlier runs said of the rest, if it still holds", () => {
  const earlier = new Map([
    ["9.jpg", recordOf("9.jpg", "new")],
    ["10.jpg", recordOf("10.jpg", "old")],
    ["2.jpg", recordOf("2.jpg", "new")],
  ]);
  const bound = {
    jobs: ["10.jpg", "9.jpg", "2.jpg", "3.jpg"].map(jobOf),
    ...{ unfit: [], waiting: [{ id: "4.jpg", path: "/uploads/4.jpg" }] },
  };
  const found = [verdictOf({ entry: refusedEntry("2.jpg", "INPUT_LINK", "now") })];
  const { verdicts, remaining } = withEarlier(found, bound, { get: (id) => earlier.get(id) });
  expect(verdicts.map(({ entry, kept }) => [entry.file, entry.code, kept, entry.note])).toEqual([
    ["2.jpg", "INPUT_LINK", false, undefined],
    ["9.jpg", "INPUT_DAMAGED", true, "for Friday"],
  ]);
  // 3, 4 and 10.
  expect(remaining).toBe(3);
});
