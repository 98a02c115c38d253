import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { refusedEntry } from "../../../src/batch/entry.js";
import { verdictOf } from "../../../src/batch/lists.js";
import { pagesSoFar } from "../../../src/cli/batch/pages-so-far.js";

const verdict = (file: string) => verdictOf({ entry: refusedEntry(file, "INPUT_LINK", "") });
beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

describe("the lists of a pass that is under way", () => {
  it("are written once in ten seconds, and never twice at a time", async () => {
    const written: string[][] = [];
    let release = () => {};
    const pages = pagesSoFar((verdicts) => {
      written.push(verdicts.map(({ entry }) => entry.file));
      return new Promise((resolve) => {
        release = resolve;
      });
    });
    pages.add(verdict("10.jpg"));
    vi.advanceTimersByTime(9_999);
    pages.add(verdict("9.jpg"));
    expect(written).toEqual([]);
    vi.advanceTimersByTime(1);
    pages.add(verdict("8.jpg"));
    expect(written).toEqual([["10.jpg", "9.jpg", "8.jpg"]]);
    vi.advanceTimersByTime(60_000);
    pages.add(verdict("7.jpg"));
    expect(written).toHaveLength(1);
    release();
    await pages.atRest();
    vi.advanceTimersByTime(10_000);
    pages.add(verdict("6.jpg"));
    expect(written[1]).toEqual(["10.jpg", "9.jpg", "8.jpg", "7.jpg", "6.jpg"]);
  });

  it("are written when the pass fails, and a full disk hides no other fault", async () => {
    const write = vi.fn(() => Promise.reject(new Error("the disk is full")));
    const pages = pagesSoFar(write);
    pages.add(verdict("quay.jpg"));
    await expect(pages.giveUp()).resolves.toBeUndefined();
    expect(write).toHaveBeenCalledTimes(1);
  });
});
