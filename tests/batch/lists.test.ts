import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { preparedEntry, type UploadEntry, waitingEntry } from "../../src/batch/entry.js";
import { batchCsv, batchJson, batchSummary, verdictOf } from "../../src/batch/lists.js";
import { finding } from "../../src/pipeline/triage/words.js";
import { figures } from "./desk/made-desk.js";

const verdict = (file: string, fromSheet: Parameters<typeof verdictOf>[1]) =>
  verdictOf({ entry: waitingEntry(file, []) }, fromSheet);
const columns = { Order: "A-17", state: "paid", "=cmd": "=1+1", plain: "\u001b[31mred" };
const verdicts = [
  verdict("boat.jpg", { note: "gift" }),
  verdict("gull.jpg [small]", { upload: "gull.jpg", piece: "small", quantity: 3, columns }),
];

describe("columns of a job sheet in the lists", () => {
  it("stand in batch.csv behind ours, and none is lost or takes the place of ours", () => {
    const { data, meta } = Papa.parse<Record<string, string>>(batchCsv(verdicts), {
      header: true,
      skipEmptyLines: true,
    });
    expect(meta.fields?.slice(-7)).toEqual([
      ...["upload", "piece", "quantity"],
      ...["Order", "sheet state", "'=cmd", "plain"],
    ]);
    expect(data[0]).toMatchObject({ file: "boat.jpg", note: "gift", Order: "", quantity: "" });
    expect(data[1]).toMatchObject({ state: "waiting", quantity: "3", Order: "A-17", "sheet state": "paid" });
  });

  it("stand apart from ours also in rows in which ours are empty", () => {
    const shops = verdict("net.jpg", { columns: { upload: "monday" } });
    const [head, ...rows] = Papa.parse<string[]>(batchCsv([shops, ...verdicts]), {
      skipEmptyLines: true,
    }).data;
    const column = (name: string) => rows.map((cells) => cells[head.indexOf(name)]);
    expect(column("upload")).toEqual(["", "", "gull.jpg"]);
    expect(column("sheet upload")).toEqual(["monday", "", ""]);
  });

  it("cannot be a formula or obey a terminal", () => {
    const csv = batchCsv(verdicts);
    // OWASP, CSV injection: a quote before =, +, - and @ keeps a spreadsheet from reading the cell as a formula.
    expect(csv).toContain("'=1+1");
    expect(csv).not.toMatch(/(^|,)"?=/m);
    expect(csv).not.toContain("\u001b");
  });

  it("may have the name of anything that every object has", () => {
    const csv = batchCsv([verdict("boat.jpg", {}), verdict("net.jpg", { columns: { constructor: "Ada" } })]);
    expect(Papa.parse<string[]>(csv, { skipEmptyLines: true }).data.map((row) => row.at(-1))).toEqual([
      "constructor",
      "",
      "Ada",
    ]);
  });

  it("are in batch.json as they are", () => {
    expect(JSON.parse(batchJson({ verdicts })).uploads[1]).toMatchObject({
      ...{ file: "gull.jpg [small]", upload: "gull.jpg", piece: "small", quantity: 3 },
      columns,
    });
  });
});

describe("the summary of a batch", () => {
  const asking = (file: string, decision?: UploadEntry["decision"]) => {
    const findings = [finding("NOTHING_BURNS", { grade: "ask" })];
    const entry = preparedEntry(file, { findings, figures }, []);
    return verdictOf({ entry: { ...entry, ...(decision && { decision }) } });
  };
  const said = { note: "", by: "Ada", at: "2026-01-01T00:00:00.000Z" };

  it("asks about nothing that was approved at the desk", () => {
    const words = batchSummary(
      [
        asking("boat.jpg", { verdict: "approved", ...said }),
        asking("gull.jpg", { verdict: "sent-back", ...said }),
        asking("net.jpg"),
      ],
      "/out",
    );
    expect(words).toContain("0 ready, 0 with a note, 2 to ask about");
    expect(words.match(/^ask .*$/gm)).toEqual([
      "ask           gull.jpg: NOTHING_BURNS",
      "ask           net.jpg: NOTHING_BURNS",
    ]);
  });
});
