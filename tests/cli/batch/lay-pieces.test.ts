/*
 * Which pieces of a batch are laid on boards, and how often.
 */
import { describe, expect, it } from "vitest";
import type { Decision } from "../../../src/batch/decisions.js";
import { preparedEntry, refusedEntry, type UploadEntry } from "../../../src/batch/entry.js";
import { listedVerdicts } from "../../../src/batch/lists.js";
import { sha256 } from "../../../src/batch/sha256.js";
import type { BoardLayout } from "../../../src/board/board-piece.js";
import type { Job } from "../../../src/cli/batch/jobs.js";
import { layPrepared } from "../../../src/cli/batch/lay-pieces.js";
import { METRIC } from "../../../src/core/shown-units.js";
import type { PrepareOptions } from "../../../src/options/options.js";
import { resolveOptions } from "../../../src/options/options.js";
import { finding } from "../../../src/pipeline/triage/words.js";

const ground = { board: { widthMm: 100, heightMm: 60, gapMm: 2, marginMm: 1 } };

interface Piece {
  readonly id: string;
  readonly widthMm?: number;
  readonly options?: PrepareOptions;
  readonly quantity?: number;
  readonly grade?: "ready" | "note" | "ask";
  readonly isRefused?: boolean;
  /** At the desk: verdicts in their order, each with a note. */
  readonly decided?: readonly (readonly [Decision["verdict"], string])[];
}

function entryOf({ id, widthMm = 20, grade = "ready", isRefused = false }: Piece): UploadEntry {
  if (isRefused) return refusedEntry(id, "INPUT_EMPTY", "empty");
  const findings = grade === "ready" ? [] : [finding("PARTS_LOST", { grade: "note", share: 0.1 })];
  const figures = { widthMm, heightMm: 10, units: METRIC, linesPerInch: 254, method: "bayer-4", pxPerMm: 8 };
  const more = { material: "maple", seconds: 1, assumed: [] };
  const prepared = { findings: [], figures: { ...figures, ...more } as never };
  return { ...preparedEntry(id, { ...prepared, findings }, []), grade };
}

const pieceOf = (id: string) => sha256(`piece ${id}`);

/** As a pass passes them on: with what was decided. */
function verdictsOf(pieces: readonly Piece[]) {
  const verdicts = pieces.map((piece) => ({
    entry: { ...entryOf(piece), pieceSha256: pieceOf(piece.id) },
    kept: false,
  }));
  const decisions = pieces.flatMap(({ id, decided = [] }) =>
    decided.map(([verdict, note], i) => ({
      ...{ file: id, pieceSha256: pieceOf(id), verdict, note, by: "Mara" },
      at: new Date(i).toISOString(),
    })),
  );
  return listedVerdicts(verdicts, decisions);
}

async function laid(...pieces: readonly Piece[]) {
  let layouts: readonly BoardLayout[] = [];
  const jobs = pieces.map(
    ({ id, options = {}, quantity }): Job => ({
      ...{
        upload: { id, path: `/uploads/${id}` },
        options,
        output: id,
        jobSha256: "",
        copies: quantity ?? 2,
        fromSheet: {},
      },
      resolved: resolveOptions({ linesPerInch: 254, material: "maple", ...options }),
      asGiven: { units: METRIC },
    }),
  );
  const told = await layPrepared(verdictsOf(pieces), jobs, ground, {
    out: "/out",
    ledger: {
      get: (id) => ({
        ...{ entry: refusedEntry(id, "INPUT_EMPTY", ""), contentSha256: "", jobSha256: "" },
        outputs: [
          { path: `${id}/a.burn.png`, sha256: `burn of ${id}` },
          { path: `${id}/a.preview.png`, sha256: `preview of ${id}` },
        ],
      }),
    },
    boards: {
      withdraw: async () => {},
      standing: async () => [],
      replace: async (each) => {
        layouts = each;
        return { boards: [], notLaid: [] };
      },
    },
  });
  const boards = layouts.map(({ places }) => places.map(({ piece, copy }) => `${piece.name} ${copy}`));
  return { boards, layouts, notLaid: told.notLaid };
}

describe("pieces of a batch", () => {
  it("are laid as often as they are wanted", async () => {
    const { boards, layouts } = await laid({ id: "boat.jpg", quantity: 3 }, { id: "gull.jpg" });
    expect(boards).toEqual([["boat.jpg 1", "boat.jpg 2", "boat.jpg 3", "gull.jpg 1", "gull.jpg 2"]]);
    expect(layouts[0].places[0].piece).toMatchObject({
      ...{ columns: 200, rows: 100 },
      bitmap: { path: "/out/boat.jpg/a.burn.png", sha256: "burn of boat.jpg" },
      preview: { path: "/out/boat.jpg/a.preview.png" },
    });
  });

  it("are laid with a note, and wait where the customer must be asked", async () => {
    const { boards, notLaid } = await laid(
      { id: "boat.jpg", grade: "note", quantity: 1 },
      { id: "gull.jpg", grade: "ask" },
      { id: "net.jpg", isRefused: true },
    );
    expect(boards).toEqual([["boat.jpg 1"]]);
    expect(notLaid).toEqual([{ file: "gull.jpg", message: expect.stringMatching(/waits for the customer/) }]);
  });

  it("are laid as it was decided at the desk, whatever their grade", async () => {
    const { boards, notLaid } = await laid(
      { id: "a.jpg", grade: "ask", quantity: 1, decided: [["approved", "The customer agrees."]] },
      { id: "b.jpg", decided: [["sent-back", "The date\nis cut off."]] },
      { id: "c.jpg", grade: "note", decided: [["sent-back", ""]] },
      {
        id: "d.jpg",
        grade: "ask",
        decided: [
          ["approved", ""],
          ["open", ""],
        ],
      },
      {
        id: "e.jpg",
        quantity: 1,
        decided: [
          ["sent-back", ""],
          ["approved", ""],
        ],
      },
    );
    expect(boards).toEqual([["a.jpg 1", "e.jpg 1"]]);
    expect(notLaid).toEqual([
      { file: "b.jpg", message: '"b.jpg" was sent back at the desk: The date is cut off.' },
      { file: "c.jpg", message: '"c.jpg" was sent back at the desk.' },
      { file: "d.jpg", message: expect.stringMatching(/waits for the customer/) },
    ]);
  });

  it("of another density, material or speed lie on boards of their own", async () => {
    const { boards } = await laid(
      { id: "a.jpg", quantity: 1 },
      { id: "b.jpg", quantity: 1, options: { linesPerInch: 508 }, widthMm: 10 },
      { id: "c.jpg", quantity: 1, options: { material: "slate" } },
      { id: "d.jpg", quantity: 1, options: { speedMmPerS: 100 } },
      { id: "e.jpg", quantity: 1, options: { brightness: 10, mirror: true } },
    );
    expect(boards.map((each) => each.join(", ")).sort()).toEqual([
      "a.jpg 1, e.jpg 1",
      "b.jpg 1",
      "c.jpg 1",
      "d.jpg 1",
    ]);
  });

  it("are left out with the reason if they are too large, or go round", async () => {
    const { boards, notLaid } = await laid(
      { id: "wide.jpg", widthMm: 99 },
      { id: "mug.jpg", options: { aroundMm: 60, widthMm: 40 } },
    );
    expect(boards).toEqual([]);
    expect(notLaid).toEqual([
      { file: "mug.jpg", message: expect.stringMatching(/round piece/) },
      { file: "wide.jpg", message: expect.stringMatching(/99 × 10 mm.*room for 98 × 58 mm/) },
    ]);
  });
});
