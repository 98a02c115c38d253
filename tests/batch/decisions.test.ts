import { describe, expect, it } from "vitest";
import {
  type Decision,
  latestDecisions,
  parseDecisions,
  parseMadeDecisions,
} from "../../src/batch/decisions.js";
import { preparedEntry } from "../../src/batch/entry.js";
import { batchCsv, listedVerdicts, verdictOf } from "../../src/batch/lists.js";
import { figures } from "./desk/made-desk.js";

const pieceSha256 = "0123456789abcdef".repeat(4);
const decision = (changes: Partial<Decision> = {}): Decision => ({
  ...{
    file: "boat.jpg",
    pieceSha256,
    verdict: "approved",
    note: "",
    by: "Mara",
    at: "2026-05-01T08:00:00.000Z",
  },
  ...changes,
});

describe("decisions", () => {
  it("are read one by one or as a list; anything else is none", () => {
    expect(parseDecisions(JSON.stringify(decision()))).toEqual([decision()]);
    expect(parseDecisions(JSON.stringify([decision(), decision()]))).toHaveLength(2);
    for (const text of ["", "{", "{}", '"approved"', JSON.stringify({ ...decision(), verdict: "burn" })])
      expect(parseDecisions(text)).toBeUndefined();
    expect(parseDecisions(JSON.stringify(decision({ pieceSha256: "../../etc" })))).toBeUndefined();
  });

  it("of a page have no time of their own", () => {
    const { at, ...made } = decision();
    expect(parseMadeDecisions([made, made])).toEqual([made, made]);
    expect(parseMadeDecisions([])).toBeUndefined();
    expect(parseMadeDecisions([made, { ...made, at }])).toBeUndefined();
    expect(parseMadeDecisions([{ ...made, note: "x".repeat(4001) }])).toBeUndefined();
  });

  it("count by time, whatever the order in which they are found, also at the same moment", () => {
    const later = decision({ verdict: "sent-back", at: "2026-05-01T10:00:00+00:00".replace("+00:00", "Z") });
    expect(latestDecisions([later, decision()]).get(pieceSha256)).toBe(later);
    expect(latestDecisions([decision(), later]).get(pieceSha256)).toBe(later);
    const same = decision({ by: "Jon" });
    expect(latestDecisions([same, decision()])).toEqual(latestDecisions([decision(), same]));
  });
});

describe("the lists of a batch", () => {
  const entry = preparedEntry("boat.jpg", { findings: [], figures }, []);
  const verdictFor = (contentSha256: string, jobSha256: string) =>
    verdictOf({ entry, contentSha256, jobSha256 }, undefined);
  const of = (contentSha256: string, jobSha256: string): string =>
    verdictFor(contentSha256, jobSha256).entry.pieceSha256 ?? "";

  it("name a decision for the piece of that content and those options alone", () => {
    const made = decision({ pieceSha256: of("content", "options"), note: "as agreed" });
    const stateOf = (contentSha256: string, jobSha256: string) =>
      listedVerdicts([verdictFor(contentSha256, jobSha256)], [made])[0].entry.decision?.verdict;
    expect(stateOf("content", "options")).toBe("approved");
    expect(stateOf("other content", "options")).toBeUndefined();
    expect(stateOf("content", "other options")).toBeUndefined();
    // Not the same text in another place.
    expect(of("ab", "c")).not.toBe(of("a", "bc"));
    const csv = batchCsv(listedVerdicts([verdictFor("content", "options")], [made]));
    expect(csv).toContain("approved,as agreed,Mara");
  });

  it("name none that was taken back", () => {
    const made = decision({ pieceSha256: of("content", "options") });
    const back = decision({ pieceSha256: made.pieceSha256, verdict: "open", at: "2026-05-02T08:00:00.000Z" });
    expect(
      listedVerdicts([verdictFor("content", "options")], [made, back])[0].entry.decision,
    ).toBeUndefined();
  });
});
