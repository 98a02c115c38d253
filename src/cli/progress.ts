import type { WriteStream } from "node:tty";
import { durationWords } from "../core/words.js";
import type { Stage } from "../pipeline/make-piece.js";

const WORDS: Readonly<Record<Stage, string>> = {
  decode: "reading the photo",
  tone: "tone and size",
  method: "judging halftone methods",
  halftone: "compensating and halftoning",
  predict: "predicting the piece",
  tones: "counting tones",
  write: "writing",
};

export interface Progress {
  readonly show: (stage: Stage) => void;
  readonly clear: () => void;
}

/** One line on a terminal that shows the current step and disappears at the end. Nothing is shown if stderr is no terminal. */
export function createProgress(stream: WriteStream): Progress {
  if (!stream.isTTY) return { show: () => {}, clear: () => {} };
  return {
    show: (stage) => stream.write(`\r\x1b[2K${WORDS[stage]} …`),
    clear: () => stream.write("\r\x1b[2K"),
  };
}

export interface Counter {
  readonly show: (done: number, all: number) => void;
  readonly clear: () => void;
}

/** The same for countable work: `3 of 8 densities`. */
export function createCounter(stream: WriteStream, things: string): Counter {
  if (!stream.isTTY) return { show: () => {}, clear: () => {} };
  return {
    show: (done, all) => stream.write(`\r\x1b[2K${done} of ${all} ${things} …`),
    clear: () => stream.write("\r\x1b[2K"),
  };
}

export interface RestTime {
  readonly start: () => void;
  /** @param share of the finished work, 0..1 */
  readonly show: (progress: { done: number; all: number; share: number }) => void;
  readonly clear: () => void;
}

/** `37 of 200 uploads, about 3 min left …`, estimated from the time so far. */
export function createRestTime(stream: WriteStream): RestTime {
  if (!stream.isTTY) return { start: () => {}, show: () => {}, clear: () => {} };
  let startedMs = 0;
  return {
    start: () => {
      startedMs = performance.now();
      stream.write("\r\x1b[2Klooking at the uploads …");
    },
    show: ({ done, all, share }) => {
      const seconds = ((performance.now() - startedMs) / 1000) * (1 / share - 1);
      const rest = share > 0 ? `, about ${durationWords(seconds)} left` : "";
      stream.write(`\r\x1b[2K${done} of ${all} uploads${rest} …`);
    },
    clear: () => stream.write("\r\x1b[2K"),
  };
}
