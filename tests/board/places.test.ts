import { describe, expect, it } from "vitest";
import type { Boards } from "../../src/board/board-piece.js";
import { readJig } from "../../src/board/jig.js";
import { layBySetting, layPieces } from "../../src/board/lay-boards.js";
import { seededRandom } from "../../src/core/random.js";
import { refusalOf } from "../support/refusal.js";
import { apart, piece, rectangle, setting } from "./pieces.js";

const board = { widthMm: 60, heightMm: 40, gapMm: 3, marginMm: 5 };
const placed = ({ boards }: Boards) =>
  boards.map(({ places }) =>
    places.map(({ piece, copy, left, top }) => `${piece.name} ${copy}: ${left},${top}`),
  );

describe("pieces on a flat board", () => {
  it("lie on shelves, tallest first, with margin and gap in whole pixels", () => {
    // By hand, at 0.1 mm: margin 50, gap 30, the board 600 × 400. The tall one begins a shelf of 200 rows. Beside it there is room for
    // one of the low ones, the next shelf begins at 50 + 200 + 30.
    const pieces = [piece("low", 200, 70, { copies: 3 }), piece("tall", 250, 200)];
    expect(placed(layPieces(pieces, { board }))).toEqual([
      ["tall 1: 50,50", "low 1: 330,50", "low 2: 50,280", "low 3: 280,280"],
    ]);
  });

  it("are numbered shelf by shelf, although a small one fills the gap of an upper shelf last", () => {
    // 500 pixels are free: 200 + 30 + 150, so the third, of 300, begins a shelf, and the last one fits beside the first two.
    const pieces = [piece("a", 200, 90), piece("b", 150, 80), piece("c", 300, 70), piece("d", 80, 60)];
    expect(placed(layPieces(pieces, { board }))).toEqual([
      ["a 1: 50,50", "b 1: 280,50", "d 1: 460,50", "c 1: 50,170"],
    ]);
  });

  it("begin another board when one is full, and return to an earlier one with room", () => {
    const pieces = [piece("large", 500, 200, { copies: 2 }), piece("small", 100, 60)];
    expect(placed(layPieces(pieces, { board }))).toEqual([
      ["large 1: 50,50", "small 1: 50,280"],
      ["large 2: 50,50"],
    ]);
  });

  it("are left out with the room that there is, if they are larger than it", () => {
    const { boards, leftOut } = layPieces([piece("wide", 501, 10), piece("fits", 500, 300)], { board });
    expect(boards).toHaveLength(1);
    expect(leftOut).toMatchObject([{ piece: { name: "wide" } }]);
    expect(leftOut[0].reason.message).toMatch(/measures 50\.1 × 1 mm.*room for 50 × 30 mm/);
  });

  it("are left out of a board of more pixels than a bitmap may have, each once", () => {
    // 2100 × 2000 mm are 21,000 × 20,000 pixels; 400 million are allowed.
    const vast = { widthMm: 2100, heightMm: 2000, gapMm: 3, marginMm: 5 };
    const { boards, leftOut } = layPieces([piece("boat", 100, 100), piece("vast", 30000, 9)], {
      board: vast,
    });
    expect(boards).toEqual([]);
    expect(leftOut.map(({ reason }) => [reason.code, reason.message])).toEqual([
      ["OPTION_TOO_LARGE", expect.stringMatching(/^"vast".*does not fit/)],
      ["OPTION_TOO_LARGE", expect.stringMatching(/^"boat".*21000 × 20000 pixels.*400 million/)],
    ]);
  });

  it("lie the same way whatever their order", () => {
    const pieces = ["b 10", "b 9", "a"].map((name) => piece(name, 100, 100));
    const laid = placed(layPieces(pieces, { board }));
    expect(laid).toEqual([["a 1: 50,50", "b 9 1: 180,50", "b 10 1: 310,50"]]);
    expect(placed(layPieces([...pieces].reverse(), { board }))).toEqual(laid);
  });

  it("keep their gaps, and their margins to a pixel, in 200 random jobs, at pitches that divide nothing evenly", () => {
    const random = seededRandom(1);
    const upTo = (max: number) => 1 + Math.floor(random() * max);
    for (let job = 0; job < 200; job++) {
      const pitch = { alongMm: 25.4 / (100 + upTo(400)), acrossMm: 25.4 / (100 + upTo(400)) };
      const own = { ...setting, pitch };
      const asked = {
        widthMm: 30 + upTo(40),
        heightMm: 20 + upTo(40),
        gapMm: random() * 4,
        marginMm: random() * 4,
      };
      const pieces = Array.from({ length: upTo(8) }, (_, i) =>
        piece(`piece ${i}`, upTo(150), upTo(150), { copies: upTo(3), setting: own }),
      );
      const { boards, leftOut } = layPieces(pieces, { board: asked });
      const count = boards.reduce((sum, { places }) => sum + places.length, 0);
      const wanted = pieces.filter((each) => !leftOut.some(({ piece }) => piece === each));
      expect(count).toBe(wanted.reduce((sum, { copies }) => sum + copies, 0));
      for (const { places, columns, rows } of boards) {
        expect(Math.abs(columns - asked.widthMm / pitch.alongMm)).toBeLessThanOrEqual(0.5 + 1e-6);
        expect(Math.abs(rows - asked.heightMm / pitch.acrossMm)).toBeLessThanOrEqual(0.5 + 1e-6);
        for (const [i, place] of places.entries()) {
          const { left, top, right, bottom } = rectangle(place);
          const margin = { along: asked.marginMm / pitch.alongMm, across: asked.marginMm / pitch.acrossMm };
          expect(left).toBeGreaterThanOrEqual(margin.along - 0.5);
          expect(top).toBeGreaterThanOrEqual(margin.across - 0.5);
          // The first margin and what lies between the two are rounded, half a pixel each.
          expect(asked.widthMm / pitch.alongMm - right).toBeGreaterThanOrEqual(margin.along - 1);
          expect(asked.heightMm / pitch.acrossMm - bottom).toBeGreaterThanOrEqual(margin.across - 1);
          for (const other of places.slice(i + 1)) {
            const along = Math.max(rectangle(other).left - right, left - rectangle(other).right);
            const across = Math.max(rectangle(other).top - bottom, top - rectangle(other).bottom);
            expect(Math.max(along * pitch.alongMm, across * pitch.acrossMm)).toBeGreaterThan(
              asked.gapMm - 1e-6,
            );
          }
        }
      }
    }
  });
});

it("a piece of 50 mm fits on a board and into a pocket of 50 mm, whatever the pitch", () => {
  for (let linesPerInch = 200; linesPerInch < 600; linesPerInch += 7) {
    const pitch = { alongMm: 25.4 / linesPerInch, acrossMm: 25.4 / linesPerInch };
    const columns = Math.round(50 / pitch.alongMm);
    const whole = piece("whole", columns, columns, { setting: { ...setting, pitch } });
    const board = { widthMm: 50, heightMm: 50, gapMm: 3, marginMm: 0 };
    expect(layPieces([whole], { board }).leftOut, `${linesPerInch}`).toEqual([]);
    const bordered = { widthMm: 60, heightMm: 60, gapMm: 3, marginMm: 5 };
    expect(layPieces([whole], { board: bordered }).leftOut, `${linesPerInch}`).toEqual([]);
    const pockets = [{ name: "A1", leftMm: 5, topMm: 5, widthMm: 50, heightMm: 50 }];
    expect(layPieces([whole], { jig: { widthMm: 60, heightMm: 60, pockets } }).leftOut).toEqual([]);
  }
});

describe("pieces of several settings", () => {
  const fine = { ...setting, pitch: { alongMm: 0.05, acrossMm: 0.05 }, key: "two" };
  const pieces = [piece("b", 100, 100, { setting: fine }), piece("c", 100, 100), piece("a", 100, 100)];

  it("get boards of their own, in an order that does not depend on theirs", () => {
    const laid = placed(layBySetting(pieces, { board }));
    expect(laid).toEqual([["a 1: 50,50", "c 1: 180,50"], ["b 1: 100,100"]]);
    expect(placed(layBySetting([...pieces].reverse(), { board }))).toEqual(laid);
  });

  it("do not keep others off their boards if a board of theirs has too many pixels", () => {
    // 1200 × 800 mm are 96 million pixels of 0.1 mm, 384 million of 0.05 mm and 600 million of 0.04 mm.
    const finest = { ...setting, pitch: { alongMm: 0.04, acrossMm: 0.04 }, key: "three" };
    const large = { ...board, widthMm: 1200, heightMm: 800 };
    const { boards, leftOut } = layBySetting([...pieces, piece("d", 100, 100, { setting: finest })], {
      board: large,
    });
    expect(boards.map(({ places }) => places.map(({ piece }) => piece.name))).toEqual([["a", "c"], ["b"]]);
    expect(leftOut.map(({ piece }) => piece.name)).toEqual(["d"]);
  });

  it("are refused on one board, with both densities", () => {
    const error = refusalOf(() => layPieces(pieces, { board }));
    expect(error.code).toBe("OPTION_CONFLICT");
    expect(error.message).toMatch(/"b" and "c".* 508 and 254 lines per inch/);
  });
});

const grid = {
  ...{ rows: 2, columns: 3, pitchXMm: 20, pitchYMm: 15, offsetXMm: 2, offsetYMm: 3 },
  ...{ pocketWidthMm: 16, pocketHeightMm: 12 },
};

function jigOf(content: object) {
  const jig = readJig(content);
  if (typeof jig === "string") throw new Error(jig);
  return jig;
}

describe("pieces in a jig", () => {
  it("lie in the middle of pockets in rows and columns", () => {
    // Middles at 10, 30, 50 mm and 9, 24 mm; a piece of 10 × 8 mm begins 5 and 4 mm before them.
    const laid = layPieces([piece("boat", 100, 80, { copies: 4 })], { jig: jigOf(grid) });
    expect(placed(laid)).toEqual([["boat 1: 50,50", "boat 2: 250,50", "boat 3: 450,50", "boat 4: 50,200"]]);
    // The last pockets end at 2 + 2 · 20 + 16 and 3 + 15 + 12 mm.
    expect(laid.boards[0]).toMatchObject({ columns: 580, rows: 300 });
    expect(laid.boards[0].places[3].pocket).toMatchObject({ name: "row 2, column 1" });
  });

  it("are numbered pocket by pocket, however large they are", () => {
    const pieces = [piece("high", 100, 100, { copies: 2 }), piece("low", 100, 20, { copies: 2 })];
    const { boards } = layPieces(pieces, { jig: jigOf(grid) });
    expect(boards[0].places.map((place) => place.piece.name)).toEqual(["high", "high", "low", "low"]);
    const reversed = layPieces([...pieces].reverse(), { jig: jigOf(grid) });
    expect(reversed.boards[0].places.map((place) => place.piece.name)).toEqual([
      ...["low", "low", "high", "high"],
    ]);
  });

  it("are at most half a pitch beside the middle, as is said of each", () => {
    const own = { ...setting, pitch: { alongMm: 25.4 / 300, acrossMm: 25.4 / 211 } };
    const { boards } = layPieces([piece("boat", 121, 64, { copies: 6, setting: own })], { jig: jigOf(grid) });
    for (const [i, { left, top, pocket }] of boards[0].places.entries()) {
      const offAlong = (left + 121 / 2) * own.pitch.alongMm - (10 + 20 * (i % 3));
      const offAcross = (top + 64 / 2) * own.pitch.acrossMm - (9 + 15 * Math.floor(i / 3));
      expect(Math.abs(offAlong)).toBeLessThanOrEqual(own.pitch.alongMm / 2 + 1e-9);
      expect(Math.abs(offAcross)).toBeLessThanOrEqual(own.pitch.acrossMm / 2 + 1e-9);
      expect(pocket?.offMiddleMm.along).toBeCloseTo(offAlong, 9);
      expect(pocket?.offMiddleMm.across).toBeCloseTo(offAcross, 9);
    }
  });

  it("go into the first pocket that takes them, and to another board when none is left", () => {
    const pockets = [
      { leftMm: 0, topMm: 0, widthMm: 10, heightMm: 10 },
      { leftMm: 12, topMm: 0, widthMm: 20, heightMm: 20, name: "wide" },
    ];
    const laid = layPieces(
      [piece("large", 180, 180), piece("small", 100, 100, { copies: 2 }), piece("huge", 210, 10)],
      {
        jig: jigOf({ pockets }),
      },
    );
    expect(placed(laid)).toEqual([["small 1: 0,0", "large 1: 130,10"], ["small 2: 0,0"]]);
    expect(laid.leftOut).toMatchObject([{ piece: { name: "huge" } }]);
    expect(laid.leftOut[0].reason.message).toMatch(/room for 20 × 20 mm/);
  });

  it("never overlap where pockets touch and pieces are half a pixel larger than these", () => {
    // 10.06 mm are 100.6 pixels, so a piece of 101 pixels counts as fitting.
    const pockets = [0, 1, 2].map((i) => ({ leftMm: 10.06 * i, topMm: 0, widthMm: 10.06, heightMm: 10.06 }));
    const { boards } = layPieces([piece("boat", 101, 101, { copies: 3 })], { jig: jigOf({ pockets }) });
    for (const { places } of boards) {
      for (const [i, place] of places.entries()) {
        for (const other of places.slice(i + 1)) expect(apart(place, other)).toBeGreaterThanOrEqual(0);
      }
    }
    expect(boards.reduce((sum, { places }) => sum + places.length, 0)).toBe(3);
  });

  const pocket = { leftMm: 0, topMm: 0, widthMm: 10, heightMm: 10 };
  const off = <T extends object>(from: T, key: keyof T): object => ({ ...from, [key]: undefined });
  it.each<[string, unknown, RegExp]>([
    ["no object", 7, /one JSON object/],
    ["a missing pitch", off(grid, "pitchXMm"), /"pitchXMm" is missing: more than 0/],
    ["nothing in it", {}, /either "pockets", a list of them, or rows, columns/],
    [
      "a pocket without a place",
      { pockets: [{ leftMm: 1, widthMm: 9, heightMm: 9 }] },
      /"pockets" \[1\] "topMm" is missing: 0 to 3000 mm/,
    ],
    ["a negative offset", { ...grid, offsetYMm: -1 }, /"offsetYMm" takes 0 to 3000 mm/],
    ["an unknown field", { ...grid, pitch: 3 }, /unknown field "pitch".*pitchXMm/],
    ["an unknown field of a pocket", { pockets: [{ ...pocket, depth: 3 }] }, /"depth" in "pockets" \[1\]/],
    ["no pockets", { pockets: [] }, /at least one/],
    [
      "a name twice",
      { pockets: ["A", "A"].map((name, i) => ({ ...pocket, leftMm: 20 * i, name })) },
      /two pockets have the name "A"/,
    ],
    ["pockets that overlap", { ...grid, pitchXMm: 15 }, /"row 1, column 1" and "row 1, column 2" overlap/],
    ["a pocket beyond its size", { ...grid, widthMm: 57 }, /"row 1, column 3" reaches beyond/],
    ["a pocket beyond its height", { pockets: [pocket], heightMm: 9 }, /"1" reaches beyond/],
    ["too many pockets", { ...grid, rows: 1000, columns: 1000 }, /1000000 pockets.*10000/],
  ])("a file with %s is refused", (_, content, words) => {
    expect(readJig(content)).toMatch(words);
  });
});
