import type { RefusalTable } from "./entry.js";

type Figures<Names extends string> = Readonly<Record<Names, number>>;

/** What must not happen whatever a user asks for, and what fails in the computer itself. */
export const internalRefusals = {
  "decoder-missing": {
    code: "INTERNAL",
    words: () =>
      "The picture decoder (package sharp) could not be loaded. Install the package again on this computer.",
  },
  "memory-exceeded": {
    code: "INTERNAL",
    words: ({ maxPages }: Figures<"maxPages">) => `Kernels need more than ${maxPages} pages of memory.`,
  },
  "plane-length": {
    code: "INTERNAL",
    words: ({ rows, columns, length }: Figures<"rows" | "columns" | "length">) =>
      `A ${rows} × ${columns} plane needs ${rows * columns} values; got ${length}.`,
  },
  "cone-without-circumference": { code: "INTERNAL", words: () => "A cone needs its circumference." },
  "samples-not-mappable": {
    code: "INTERNAL",
    words: ({ start, end, samples, pixels }: Figures<"start" | "end" | "samples" | "pixels">) =>
      `Cannot map [${start}, ${end}) of ${samples} samples onto ${pixels} pixels.`,
  },
  "surface-not-given": {
    code: "INTERNAL",
    words: () => "A halftone asked for the surface, and the job gave none.",
  },
  "burn-thread-ended": { code: "INTERNAL", words: () => "The burn thread has ended." },
  "bitmap-not-kept": { code: "INTERNAL", words: () => "The bitmap was not kept." },
  "nothing-predicted": { code: "INTERNAL", words: () => "Nothing was predicted." },
  "bitmap-without-pitch": { code: "INTERNAL", words: () => "A bitmap file needs the pitch of its pixels." },
  "bitmap-without-pixels": { code: "INTERNAL", words: () => "A bitmap file needs at least one pixel." },
  "bitmap-rows": {
    code: "INTERNAL",
    words: ({ rows, columns }: Figures<"rows" | "columns">) =>
      `The bitmap's rows are not ${rows} of ${columns} pixels.`,
  },
} satisfies RefusalTable;
