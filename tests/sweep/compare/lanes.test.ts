/*
 * Candidates on one thread and on two: the same bytes. Threads are started from the built package only.
 */
import { readFile } from "node:fs/promises";
import { beforeAll, describe, expect, it } from "vitest";
import type { CompareContext, CompareOptions, Comparison } from "../../../src/index.js";
import { photographPath } from "../../pipeline/photograph.js";

const built = new URL("../../../dist/index.js", import.meta.url).href;
const { compare, comparisonCsv } = (await import(built)) as typeof import("../../../src/index.js");

let boats: Uint8Array;
beforeAll(async () => {
  boats = await readFile(photographPath("nagasaki-boats"));
});

const options: CompareOptions = {
  widthMm: 8,
  linesPerInch: [200, 300],
  method: ["green-noise", "bayer-8"],
};

const bytesOf = (made: Comparison): string => JSON.stringify(made) + comparisonCsv(made);

describe("one thread or two", () => {
  it("give the same figures and the same pictures", async () => {
    const made = await Promise.all(
      [1, 2].map(async (threads) => {
        const pictures: string[] = [];
        const context: CompareContext = {
          threads,
          pictures: true,
          onCandidate({ index, pictures: seen }) {
            if (!seen) return;
            const { whole, closeUp, small } = seen;
            const files = [whole, closeUp.marks, closeUp.dots, small.whole.rgb, small.marks.rgb];
            pictures[index] = `${JSON.stringify(closeUp.part)} ${Buffer.concat(files).toString("base64")}`;
          },
        };
        return { figures: bytesOf(await compare(boats, options, context)), pictures };
      }),
    );
    expect(made[1].figures).toBe(made[0].figures);
    expect(made[0].pictures).toHaveLength(4);
    expect(Math.min(...made[0].pictures.map(({ length }) => length))).toBeGreaterThan(10_000);
    expect(made[1].pictures).toEqual(made[0].pictures);
  });

  it("keep tone curves for the caller, and take them back", async () => {
    const kept = new Map();
    let asked = 0;
    const curves = {
      get: (key: string) => {
        if (kept.has(key)) asked++;
        return kept.get(key);
      },
      set: (key: string, curve: unknown) => void kept.set(key, curve),
    };
    const one = { ...options, linesPerInch: 200, method: ["floyd-steinberg", "ostromoukhov"] };
    const first = await compare(boats, one, { threads: 2, curves });
    // Of each candidate its curve, and the tones that were counted with it.
    expect([kept.size, asked]).toEqual([4, 0]);
    const second = await compare(boats, one, { threads: 2, curves });
    expect([kept.size, asked]).toEqual([4, 4]);
    expect(bytesOf(second)).toBe(bytesOf(first));
  });

  it("tell what a photo lacks, and count what is done", async () => {
    const told: number[] = [];
    const onProgress = (done: number, all: number) => void told.push(done, all);
    await compare(boats, { ...options, method: "bayer-8" }, { threads: 2, onProgress });
    expect(told).toEqual([1, 2, 2, 2]);
    const empty = compare(new Uint8Array(10), options, { threads: 2 });
    await expect(empty).rejects.toMatchObject({ code: "INPUT_NOT_AN_IMAGE" });
  });
});
