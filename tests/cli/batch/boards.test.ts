/*
 * Boards of a batch in its output folder: a board never shows a piece as it was, also after a run that was killed in between.
 */
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { encodePackedBitmap } from "../../../src/6-report/files/bitmap-file.js";
import { sha256 } from "../../../src/batch/sha256.js";
import type { BoardPiece } from "../../../src/board/board-piece.js";
import { layPieces } from "../../../src/board/lay-boards.js";
import { openBoards } from "../../../src/cli/batch/boards.js";
import { packBitmap } from "../../../src/core/packed-bits.js";
import { piece, setting } from "../../board/pieces.js";
import { temporaryFolder } from "../command.js";

let folder: ReturnType<typeof temporaryFolder>;
beforeEach(() => {
  folder = temporaryFolder();
  mkdirSync(folder.in("work"));
});
afterEach(() => folder.remove());

/** A piece with its file in the output folder; `ink` makes another content. */
async function written(name: string, ink: 0 | 1 = 1): Promise<BoardPiece> {
  const bits = packBitmap(new Uint8Array(400).fill(ink), 20, 20);
  const file = await encodePackedBitmap(bits, setting.pitch, "png");
  const path = folder.in(`${name}.burn.png`);
  writeFileSync(path, file);
  return piece(name, 20, 20, { bitmap: { path, sha256: sha256(file) } });
}

/** One piece fits on each. */
const ground = { board: { widthMm: 3, heightMm: 3, gapMm: 1, marginMm: 0 } };
const laid = (...pieces: BoardPiece[]) => layPieces(pieces, ground).boards;
const open = () => openBoards(folder.in("."), folder.in("boards.json"), folder.in("work"));
const there = (): string[] =>
  existsSync(folder.in("boards")) ? readdirSync(folder.in("boards")).sort() : [];
/** A file of a board by its name without the part that is made from the content: `board-01.burn.png`. */
const plain = (name: string): string => name.replace(/-[0-9a-f]{6}\./, ".");
const named = (name: string): string => there().find((each) => plain(each) === name) ?? name;
const bytesOf = (name: string): Buffer => readFileSync(join(folder.in("boards"), named(name)));

describe("boards of a batch", () => {
  it("are written with a bitmap and their places, and recorded", async () => {
    const { boards } = await open().replace(laid(await written("a"), await written("b")));
    expect(there().map(plain)).toEqual([
      "board-01.burn.png",
      "board-01.json",
      "board-02.burn.png",
      "board-02.json",
    ]);
    expect(boards).toMatchObject([
      {
        board: expect.stringMatching(/^board-01-[0-9a-f]{6}$/),
        material: "maple",
        pieces: [{ file: "a", copies: 1 }],
        widthMm: 3,
      },
      { board: expect.stringMatching(/^board-02-[0-9a-f]{6}$/), pieces: [{ file: "b", copies: 1 }] },
    ]);
    expect(JSON.parse(bytesOf("board-01.json").toString()).pieces[0].bitmap).toBe("../a.burn.png");
  });

  it("stay as they are while their pieces do, and go when these do", async () => {
    const [a, b] = [await written("a"), await written("b")];
    await open().replace(laid(a, b));
    // An unchanged board is not made again: its pieces need not be there.
    rmSync(b.bitmap.path);
    expect((await open().replace(laid(a, b))).boards).toHaveLength(2);
    expect((await open().replace(laid(a))).boards).toMatchObject([{ pieces: [{ file: "a" }] }]);
    expect(there().map(plain)).toEqual(["board-01.burn.png", "board-01.json"]);
    await open().replace([]);
    expect(there()).toEqual([]);
  });

  it("stand while their files do, also in a run that asks for none", async () => {
    await open().replace(laid(await written("a"), await written("b")));
    expect(await open().standing()).toMatchObject([{ pieces: [{ file: "a" }] }, { pieces: [{ file: "b" }] }]);
    rmSync(join(folder.in("boards"), named("board-01.burn.png")));
    expect(await open().standing()).toMatchObject([{ pieces: [{ file: "b" }] }]);
  });

  it("are removed before a piece on them changes, and only those", async () => {
    const pieces = [await written("a"), await written("b")];
    await open().replace(laid(...pieces));
    await open().withdraw("a");
    expect(there().map(plain)).toEqual(["board-02.burn.png", "board-02.json"]);
    const before = bytesOf("board-02.burn.png");
    await open().replace(laid(await written("a", 0), pieces[1]));
    expect(there()).toHaveLength(4);
    expect(bytesOf("board-02.burn.png").equals(before)).toBe(true);
    expect(bytesOf("board-01.burn.png").equals(before)).toBe(false);
  });

  it("never change the content of a file of one name, and keep their names while they stay", async () => {
    const steps = ["a1 b1", "b1 c1", "b1", "a0 b1", "a1 b1", "a1 b1 c1"].map((step) => step.split(" "));
    const contents = new Map<string, Buffer>();
    const namesOfB = new Set<string>();
    for (const step of steps) {
      const pieces = await Promise.all(step.map(([name, ink]) => written(name, ink === "1" ? 1 : 0)));
      const { boards } = await open().replace(laid(...pieces));
      for (const { board, pieces } of boards) if (pieces[0].file === "b") namesOfB.add(board);
      expect(new Set(boards.map(({ board }) => board.slice(0, "board-01".length))).size).toBe(boards.length);
      for (const name of there()) {
        const before = contents.get(name) ?? bytesOf(name);
        expect(bytesOf(name).equals(before)).toBe(true);
        contents.set(name, before);
      }
    }
    expect([...namesOfB]).toEqual([expect.stringMatching(/^board-02-/)]);
    // Two of a, one of b, c as the first and as the third; each a bitmap and a JSON file.
    expect(contents.size).toBe(10);
  });

  it("have the same names in every output folder", async () => {
    const { boards } = await open().replace(laid(await written("a")));
    const elsewhere = temporaryFolder();
    try {
      const { bitmap, ...one } = await written("a");
      mkdirSync(elsewhere.in("work"));
      writeFileSync(elsewhere.in("a.burn.png"), readFileSync(bitmap.path));
      const moved = laid({ ...one, bitmap: { ...bitmap, path: elsewhere.in("a.burn.png") } });
      const there = openBoards(elsewhere.in("."), elsewhere.in("boards.json"), elsewhere.in("work"));
      expect((await there.replace(moved)).boards).toEqual(boards);
    } finally {
      elsewhere.remove();
    }
  });

  it("are made again if a file is missing or was changed", async () => {
    const [board] = [laid(await written("a"))];
    await open().replace(board);
    const whole = bytesOf("board-01.burn.png");
    rmSync(join(folder.in("boards"), named("board-01.burn.png")));
    await open().replace(board);
    expect(bytesOf("board-01.burn.png").equals(whole)).toBe(true);
    writeFileSync(join(folder.in("boards"), named("board-01.burn.png")), "half");
    await open().replace(board);
    expect(bytesOf("board-01.burn.png").equals(whole)).toBe(true);
  });

  it("leave no file behind that nobody knows, wherever a run is killed", async () => {
    // The board of a killed run: recorded, and only the first of its files in place.
    await open().replace(laid(await written("a"), await written("b")));
    rmSync(join(folder.in("boards"), named("board-02.json")));
    await open().replace(laid(await written("a")));
    expect(there().map(plain)).toEqual(["board-01.burn.png", "board-01.json"]);
  });

  it("are recorded before their files appear", async () => {
    const one = await written("a");
    await open().replace(laid(one));
    const json = join(folder.in("boards"), named("board-01.json"));
    await open().replace([]);
    // A folder where a file should go makes the move fail, as a kill would.
    mkdirSync(join(json, "x"), { recursive: true });
    await expect(open().replace(laid(one))).rejects.toThrow();
    expect(there().map(plain)).toEqual(["board-01.burn.png", "board-01.json"]);
    rmSync(json, { recursive: true });
    await open().replace([]);
    expect(there()).toEqual([]);
  });

  it("are not made with a piece that has changed since it was prepared, or is gone, and the others are", async () => {
    const [a, b, c] = [await written("a"), await written("b"), await written("c")];
    writeFileSync(a.bitmap.path, "touched up by hand");
    rmSync(c.bitmap.path);
    const { boards, notLaid } = await open().replace(laid(a, b, c));
    expect(boards).toMatchObject([{ pieces: [{ file: "b" }] }]);
    expect(notLaid).toEqual([
      { file: "a", message: expect.stringMatching(/^"a" .*a\.burn\.png" has changed since it was prepared/) },
      { file: "c", message: expect.stringMatching(/^"c" .*c\.burn\.png" cannot be read/) },
    ]);
    expect(there().map(plain)).toEqual(["board-02.burn.png", "board-02.json"]);
  });
});
