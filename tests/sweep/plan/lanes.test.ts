/*
 * Rows on one thread and on two, and tone curves from plan to plan. Threads are started from the built package only.
 */
import { readFile } from "node:fs/promises";
import { beforeAll, describe, expect, it } from "vitest";
import type { Plan, PlanOptions, Table } from "../../../src/index.js";
import { photographPath } from "../../pipeline/photograph.js";

const built = new URL("../../../dist/index.js", import.meta.url).href;
const { plan, prepare } = (await import(built)) as typeof import("../../../src/index.js");

let boats: Uint8Array;
beforeAll(async () => {
  boats = await readFile(photographPath("nagasaki-boats"));
});

const options: PlanOptions = { widthMm: 8, spotMm: 0.115, densities: [200, 300] };
/** The same with one halftone, which takes a third of the time. */
const one: PlanOptions = { ...options, method: "floyd-steinberg" };

/** A store that counts, and may tell of other curves than were kept. */
function countingStore(change: (table: Table) => Table = (table) => table) {
  const kept = new Map<string, Table>();
  const counts = { asked: 0, known: 0 };
  return {
    kept,
    counts,
    get(key: string) {
      counts.asked++;
      const table = kept.get(key);
      if (table) counts.known++;
      return table && change(table);
    },
    set: (key: string, table: Table) => void kept.set(key, table),
  };
}

describe("a plan on threads", () => {
  const threads = 2;
  const curves = countingStore();
  let first: Plan;
  beforeAll(async () => {
    first = await plan(one, boats, { threads, curves });
  });

  it("keeps what it measured, and uses it", async () => {
    // Of each density the curve, and the tones counted with it. Of each of ten densities at which the worth is measured, one table.
    expect([curves.kept.size, curves.counts.known]).toEqual([14, 0]);
    curves.counts.asked = 0;
    const second = await plan(one, boats, { threads, curves });
    expect([curves.kept.size, curves.counts.asked, curves.counts.known]).toEqual([14, 14, 14]);
    expect(second).toEqual(first);
  });

  it("engraves by the curves of the store", async () => {
    // A curve that says that everything is solid: hardly anything is burned then.
    const lying = countingStore((table) =>
      table.fractions
        ? { ...table, luminance: table.luminance.map((_, k) => (k === 0 ? 0.62 : 0.01)) }
        : table,
    );
    for (const [key, table] of curves.kept) lying.kept.set(key, table);
    const told = await plan(one, boats, { threads, curves: lying });
    for (const [k, row] of told.rows.entries()) {
      expect(row.beamOnSeconds).toBeLessThan(0.9 * first.rows[k].beamOnSeconds);
    }
  });

  it("shows the same pictures as on one", async () => {
    const files = await Promise.all(
      [1, 2].map(async (count) => {
        const seen: string[] = [];
        await plan(one, boats, {
          threads: count,
          curves: { get: (key) => curves.kept.get(key), set: () => {} },
          onPicture(row, { file }) {
            seen[row] = Buffer.from(file).toString("base64");
          },
        });
        return seen;
      }),
    );
    expect(files[0]).toHaveLength(2);
    expect(files[1]).toEqual(files[0]);
  });
});

it("a store that fails costs no plan", async () => {
  const single = { ...one, densities: [200] };
  const fail = () => {
    throw new Error("the disk is full");
  };
  const failLater = async () => fail();
  const told = await plan(single, boats, { threads: 1 });
  const empty = () => ({ fractions: new Float64Array(0), luminance: new Float64Array(0) });
  for (const [threads, curves] of [
    [1, { get: fail, set: fail }],
    [2, { get: fail, set: fail }],
    [1, { get: failLater, set: failLater }],
    [1, { get: empty, set: () => {} }],
  ] as const)
    expect(await plan(single, boats, { threads, curves })).toEqual(told);
});

describe("what is kept", () => {
  it("serves a report as well, and not for another photo, material or dose spread", async () => {
    const curves = countingStore();
    await plan({ ...options, densities: [200] }, boats, { curves });
    const same = { widthMm: 8, spotMm: 0.115, linesPerInch: 200 } as const;
    const known = async (more: object): Promise<number> => {
      curves.counts.known = 0;
      const context = { curves: { get: curves.get, set: () => {} } };
      const { report } = await prepare(boats, { ...same, ...more }, context);
      const { known } = curves.counts;
      // What is not known cannot change the report.
      if (known > 0) expect(report).toEqual((await prepare(boats, { ...same, ...more })).report);
      return known;
    };
    expect(await known({})).toBe(3);
    // Other tones to try the methods on, and the trial curves again.
    expect(await known({ gamma: 1.3 })).toBe(6);
    expect(await known({ doseSpread: 0.2 })).toBeLessThanOrEqual(5);
    expect(await known({ material: "slate" })).toBe(0);
    expect(await known({ spotMm: 0.12 })).toBe(0);
  });
});
