import type { WriteStream } from "node:tty";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { createCounter, createProgress, createRestTime } from "../../src/cli/progress.js";

/** A terminal, or another stream, that records what was written. */
function screen(isTTY = true) {
  const written: string[] = [];
  const stream = { isTTY, write: (text: string) => written.push(text) } as unknown as WriteStream;
  return { stream, written };
}

/** To the start of the line, and the line emptied. */
const ANEW = "\r\x1b[2K";

beforeEach(() => {
  vi.useFakeTimers({ toFake: ["performance"] });
});
afterEach(() => {
  vi.useRealTimers();
});

/** What is shown so many seconds after the start, with a share of the work done. */
function shownAfter(seconds: number, share: number): string | undefined {
  const { stream, written } = screen();
  const rest = createRestTime(stream);
  vi.advanceTimersByTime(5_000); // What was before the start does not count.
  rest.start();
  vi.advanceTimersByTime(1000 * seconds);
  rest.show({ done: 37, all: 200, share });
  return written.at(-1);
}

describe("time left of a batch", () => {
  // The rest takes as long for its share as the work so far for its own: left = elapsed · (1 − share) / share.
  it.each([
    [10, 0.5, "10 s"],
    [10, 0.25, "30 s"],
    [30, 0.75, "10 s"],
    [60, 0.25, "3.0 min"],
    [60, 1 / 6, "5.0 min"],
    [600, 0.25, "30 min"],
    [1800, 0.2, "2 h 0 min"],
    [60, 1, "0 s"],
  ])("%d s for a share of %d: about %s", (seconds, share, left) => {
    expect(shownAfter(seconds, share)).toBe(`${ANEW}37 of 200 uploads, about ${left} left …`);
  });

  it("says nothing of time before any work is done", () => {
    expect(shownAfter(10, 0)).toBe(`${ANEW}37 of 200 uploads …`);
  });

  it("counts anew from each start", () => {
    const { stream, written } = screen();
    const rest = createRestTime(stream);
    rest.start();
    vi.advanceTimersByTime(90_000);
    rest.start();
    vi.advanceTimersByTime(20_000);
    rest.show({ done: 1, all: 2, share: 0.5 });
    expect(written.at(-1)).toBe(`${ANEW}1 of 2 uploads, about 20 s left …`);
  });
});

describe("a line of progress", () => {
  it("is emptied when the work is done", () => {
    const { stream, written } = screen();
    createRestTime(stream).clear();
    createProgress(stream).clear();
    createCounter(stream, "densities").clear();
    expect(written).toEqual([ANEW, ANEW, ANEW]);
  });

  it("names the stage, or counts", () => {
    const { stream, written } = screen();
    createProgress(stream).show("halftone");
    createCounter(stream, "densities").show(3, 8);
    expect(written).toEqual([`${ANEW}compensating and halftoning …`, `${ANEW}3 of 8 densities …`]);
  });

  it("tells how much of a search is done, and how long it may still take", () => {
    const { stream, written } = screen();
    const progress = createProgress(stream);
    progress.show("search");
    vi.advanceTimersByTime(30_000);
    progress.show("search", 0.25);
    progress.show("search", 1);
    expect(written).toEqual([
      `${ANEW}searching …`,
      `${ANEW}searching: 25 %, no more than about 1.5 min left …`,
      `${ANEW}searching: 100 % …`,
    ]);
  });

  it("is not written where there is no terminal", () => {
    const { stream, written } = screen(false);
    const rest = createRestTime(stream);
    rest.start();
    rest.show({ done: 1, all: 2, share: 0.5 });
    rest.clear();
    createProgress(stream).show("tone");
    createCounter(stream, "densities").show(1, 2);
    expect(written).toEqual([]);
  });
});
