import type { WriteStream } from "node:tty";
import { durationWords } from "../core/words.js";
import type { Stage } from "../pipeline/make-piece.js";

const WORDS: Readonly<Record<Stage, string>> = {
  decode: "reading the photo",
  tone: "tone and size",
  method: "judging halftone methods",
  halftone: "compensating and halftoning",
  search: "searching",
  predict: "predicting the piece",
  tones: "counting tones",
  write: "writing",
};

/** Returns a function that replaces the current line of a terminal. It does nothing if the stream is no terminal. */
const lineOn =
  (stream: WriteStream) =>
  (text: string): void => {
    if (stream.isTTY) stream.write(`\r\x1b[2K${text}`);
  };

export interface Progress {
  /** @param share of a long step that is done, 0..1 */
  readonly show: (stage: Stage, share?: number) => void;
  readonly clear: () => void;
}

/** One line on a terminal that shows the current step and disappears at the end. Nothing is shown if stderr is no terminal. */
export function createProgress(stream: WriteStream): Progress {
  const line = lineOn(stream);
  let begunMs = 0;
  return {
    show(stage, share) {
      if (share === undefined) begunMs = performance.now();
      line(`${WORDS[stage]}${share === undefined ? "" : restWords(share, begunMs)} …`);
    },
    clear: () => line(""),
  };
}

function restWords(share: number, begunMs: number): string {
  const seconds = ((performance.now() - begunMs) / 1000) * (1 / share - 1);
  return `: ${Math.round(100 * share)} %${share < 1 ? `, no more than about ${durationWords(seconds)} left` : ""}`;
}

export interface Counter {
  readonly show: (done: number, all: number) => void;
  readonly clear: () => void;
}

/** The same for countable work: `3 of 8 densities`. */
export function createCounter(stream: WriteStream, things: string): Counter {
  const line = lineOn(stream);
  return { show: (done, all) => line(`${done} of ${all} ${things} …`), clear: () => line("") };
}

export interface RestTime {
  readonly start: () => void;
  /** @param share of the finished work, 0..1 */
  readonly show: (progress: { done: number; all: number; share: number }) => void;
  readonly clear: () => void;
}

/** `37 of 200 uploads, about 3 min left …`, estimated from the time so far. */
export function createRestTime(stream: WriteStream): RestTime {
  const line = lineOn(stream);
  let startedMs = 0;
  return {
    start: () => {
      startedMs = performance.now();
      line("looking at the uploads …");
    },
    show: ({ done, all, share }) => {
      const seconds = ((performance.now() - startedMs) / 1000) * (1 / share - 1);
      const rest = share > 0 ? `, about ${durationWords(seconds)} left` : "";
      line(`${done} of ${all} uploads${rest} …`);
    },
    clear: () => line(""),
  };
}
