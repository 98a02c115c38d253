import { mkdirSync, readdirSync, readFileSync, utimesSync, writeFileSync } from "node:fs";
import { afterAll, describe, expect, it } from "vitest";
import { createCurveFolder } from "../../src/cli/curve-folder.js";
import { temporaryFolder } from "./command.js";

const folder = temporaryFolder();
afterAll(() => folder.remove());

const curve = {
  fractions: Float64Array.of(0, 0.1, 1 / 3, 1),
  luminance: Float64Array.of(0.62, 0.6, 0.123456789012345, 0.09),
};

describe("tone curves kept between runs", () => {
  it("come back to the last bit, from a folder that did not exist", () => {
    const path = folder.in("new/curves");
    createCurveFolder(path).set("a1", curve);
    expect(createCurveFolder(path).get("a1")).toEqual(curve);
    expect(createCurveFolder(path).get("b2")).toBeUndefined();
    expect(readdirSync(path)).toEqual(["a1.json"]);
  });

  it.each([
    ["half a file", '{"fractions":[0,'],
    ["another content", '{"fractions":[0,1]}'],
    ["unequal lengths", '{"fractions":[0,1],"luminance":[1]}'],
    ["words", '{"fractions":["0","1"],"luminance":["0","1"]}'],
  ])("%s counts as nothing kept, and is written over", (_, content) => {
    const path = folder.in("broken");
    mkdirSync(path, { recursive: true });
    writeFileSync(folder.in("broken/k.json"), content);
    const store = createCurveFolder(path);
    expect(store.get("k")).toBeUndefined();
    store.set("k", curve);
    expect(store.get("k")).toEqual(curve);
  });

  it("goes on without a folder that can be written", () => {
    writeFileSync(folder.in("file"), "");
    const store = createCurveFolder(folder.in("file/curves"));
    store.set("k", curve);
    expect(store.get("k")).toBeUndefined();
  });

  it("keeps 256, and lets those go that were not used for longest", () => {
    const path = folder.in("full");
    const store = createCurveFolder(path);
    for (let i = 0; i < 256; i++) {
      store.set(`c${i}`, curve);
      const used = new Date(2020, 0, 1, 0, 0, i);
      utimesSync(`${path}/c${i}.json`, used, used);
    }
    store.get("c0");
    store.set("next", curve);
    const names = readdirSync(path);
    expect(names.length).toBe(256);
    expect(names).toContain("c0.json");
    expect(names).not.toContain("c1.json");
    expect(readFileSync(`${path}/next.json`, "utf8")).toContain("fractions");
  });
});
