import { expect, it } from "vitest";
import { batchSettings } from "../../../src/batch/batch-options.js";
import { bindJobs } from "../../../src/cli/batch/jobs.js";
import { outdoneWords } from "../../../src/cli/batch/request.js";

const uploads = ["boat.jpg", "net.jpg"].map((id) => ({ id, path: `/uploads/${id}` }));
const rows = [
  { file: "boat.jpg", where: "row 2", folder: "/uploads", values: {}, quantity: 3 },
  { file: "net.jpg", where: "row 3", folder: "/uploads", values: {} },
];

/** @param copies of the config file or of the command line */
async function copiesOf(copies: number, typed: ReadonlyMap<string, string>) {
  const settings = batchSettings({ copies, boardSizeMm: { widthMm: 90, heightMm: 90 } }, 1, 8e9);
  const { jobs } = await bindJobs({
    uploads,
    rows,
    typed: new Map([...typed, ["width", "20"]]),
    files: {},
    settings,
  });
  return jobs.map((job) => [job.copies, job.fromSheet.quantity]);
}

it("a piece is laid as often as its row says, else as all are; what is typed wins over the sheet", async () => {
  expect(await copiesOf(2, new Map())).toEqual([
    [3, 3],
    [2, 2],
  ]);
  expect(await copiesOf(1, new Map())).toEqual([
    [3, 3],
    [1, undefined],
  ]);
  const typed = new Map([["copies", "2"]]);
  expect(await copiesOf(2, typed)).toEqual([
    [2, 2],
    [2, 2],
  ]);
  expect(outdoneWords(rows, typed)).toEqual([
    expect.stringMatching(
      /^--copies on the command line wins over the job sheet: its "quantity" in 1 row has no effect/,
    ),
  ]);
});
