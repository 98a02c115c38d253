import type { WriteStream } from "node:tty";
import type { Stage } from "../index.js";

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

/** One line on a terminal that follows the work and goes when it is done; silent where stderr is no terminal. */
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

/** The same for work that can be counted: `3 of 8 densities`. */
export function createCounter(stream: WriteStream, things: string): Counter {
  if (!stream.isTTY) return { show: () => {}, clear: () => {} };
  return {
    show: (done, all) => stream.write(`\r\x1b[2K${done} of ${all} ${things} …`),
    clear: () => stream.write("\r\x1b[2K"),
  };
}
