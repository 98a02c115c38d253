import type { Figures } from "../told.js";
import { refusedAs } from "./entry.js";

/** Faults of the program, and failures of the computer. */
export const internalRefusals = refusedAs("INTERNAL", undefined, {
  "decoder-missing": () =>
    "The picture decoder (package sharp) could not be loaded. Install the package again on this computer.",
  "memory-exceeded": ({ maxPages }: Figures<"maxPages">) =>
    `Kernels need more than ${maxPages} pages of memory.`,
  "plane-length": ({ rows, columns, length }: Figures<"rows" | "columns" | "length">) =>
    `A ${rows} × ${columns} plane needs ${rows * columns} values; got ${length}.`,
  "cone-without-circumference": () => "A cone needs its circumference.",
  "samples-not-mappable": ({
    start,
    end,
    samples,
    pixels,
  }: Figures<"start" | "end" | "samples" | "pixels">) =>
    `Cannot map [${start}, ${end}) of ${samples} samples onto ${pixels} pixels.`,
  "worker-ended": ({ what, why }: { readonly what: string; readonly why?: string | undefined }) =>
    `${what} ended before its work was done${why === undefined ? "" : `: ${why.replace(/\.$/, "")}`}.`,
  "workers-not-started": ({ code }: { readonly code: string }) =>
    `No worker process can be started: each ends at once${code === "" ? "" : ` (${code})`}. Nothing more can be prepared. Check the memory and the number of processes that this computer allows, and that the installed package is complete; then run the same command again.`,
  "bitmap-not-kept": () => "The bitmap was not kept.",
  "nothing-predicted": () => "Nothing was predicted.",
  "bitmap-without-pitch": () => "A bitmap file needs the pitch of its pixels.",
  "bitmap-without-pixels": () => "A bitmap file needs at least one pixel.",
  "bitmap-rows": ({ rows, columns }: Figures<"rows" | "columns">) =>
    `The bitmap's rows are not ${rows} of ${columns} pixels.`,
});
