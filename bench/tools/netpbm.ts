import { type Command, outputOf } from "../child.js";
import { type Job, pixelsPerMetre, type Tool } from "../job.js";
import { writing } from "./writing.js";

const PROGRAMS = "jpegtopnm ppmtopgm pnmgamma pamscale pgmtopbm pamditherbw pnmtopng".split(" ");

/** `pamscale -linear` mixes the code values as they are; without it pamscale takes them to light and back. */
export const onCodes = writing(
  "netpbm on codes, pamscale -linear, pgmtopbm -fs",
  "codes",
  pipeline("ppmtopgm | pamscale -linear SIZE | pgmtopbm -fs -randomseed=1"),
);

/** pamscale and pamditherbw take their samples as encoded by BT.709, which a JPEG's are not. */
const gammaAware = writing(
  "netpbm gamma-aware, pnmgamma, pamscale, pamditherbw -fs",
  "light",
  pipeline("ppmtopgm | pnmgamma -srgbtobt709 | pamscale SIZE | pamditherbw -fs -randomseed=1"),
);

export function netpbm(): Tool {
  const complete = PROGRAMS.every((program) => outputOf([program, "-version"]) !== undefined);
  const version = /Netpbm Version: Netpbm (\S+)/.exec(outputOf(["pamscale", "-version"]) ?? "")?.[1];
  return {
    name: "netpbm",
    version: complete ? (version ?? "version unknown") : undefined,
    contenders: [onCodes, gammaAware],
  };
}

function pipeline(middle: string): (job: Job, to: string) => Command {
  const sized = middle.replace("SIZE", '-xsize="$2" -ysize="$3"');
  const script = `jpegtopnm -quiet "$1" | ${sized} | pnmtopng -quiet -size="$4 $4 1" > "$5"`;
  return (job, to) => {
    const numbers = [job.columns, job.rows, pixelsPerMetre(job)].map(String);
    return ["sh", "-c", script, "sh", job.photo.file, ...numbers, to];
  };
}
