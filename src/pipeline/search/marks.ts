import type { LineMark, MarkProfile } from "../../4-search/search-model.js";
import { type SampleTaps, tapsAcross, tapsAlong } from "../../5-burn/sample-taps.js";
import { type BeamPath, linesAlike } from "../../core/spot.js";

/** A mark ends where this part of its dose is left on a side. What is left out is found when a pass begins. */
const LEFT_OUT = 1e-3;

/** The marks of a beam, as a search changes them. */
export interface Marks {
  readonly evenLines: LineMark;
  readonly oddLines: LineMark;
  readonly across: MarkProfile;
}

export function marksOf(path: BeamPath, samplesAlong: number, samplesAcross: number): Marks {
  const { motion } = path;
  const evenLines = lineMark(tapsAlong(path, samplesAlong, 1, 0), samplesAlong);
  return {
    evenLines,
    oddLines: linesAlike(motion)
      ? evenLines
      : lineMark(tapsAlong(path, samplesAlong, -1, motion.lineShiftMm), samplesAlong),
    across: trimmed([markOf(tapsAcross(path, samplesAcross), samplesAcross)], samplesAcross)[0],
  };
}

function lineMark(taps: SampleTaps, samples: number): LineMark {
  if (!taps.bursts) return trimmed([markOf(taps, samples)], samples)[0];
  const { part, ...change } = taps.bursts;
  const [whole, partly] = trimmed([markOf(taps, samples), markOf(part, samples)], samples);
  return { ...whole, bursts: { ...change, part: partly.dose } };
}

/** Taps tell what a sample gets of the pixels around, a mark what a pixel gives to the samples around. */
function markOf({ before, after, width, taps }: SampleTaps, samples: number): MarkProfile {
  const dose = new Float64Array(width * samples);
  for (let pixel = -after; pixel <= before; pixel++) {
    for (let s = 0; s < samples; s++) {
      dose[(pixel + after) * samples + s] = taps[s * width + before - pixel];
    }
  }
  return { before: after, after: before, dose };
}

/** Marks without their faint ends, all with the reach of the widest, scaled so that the first keeps its whole dose. */
function trimmed(marks: readonly MarkProfile[], samples: number): MarkProfile[] {
  const before = Math.max(...marks.map((mark) => reachOf(mark, samples, -1)));
  const after = Math.max(...marks.map((mark) => reachOf(mark, samples, 1)));
  const cut = marks.map((mark) => {
    const dose = new Float64Array((before + 1 + after) * samples);
    for (let i = 0; i < dose.length; i++) {
      dose[i] = mark.dose[(mark.before - before) * samples + i] ?? 0;
    }
    return { before, after, dose };
  });
  const scale = sum(marks[0].dose) / sum(cut[0].dose);
  return cut.map((mark) => ({ ...mark, dose: mark.dose.map((dose) => scale * dose) }));
}

function reachOf({ before, after, dose }: MarkProfile, samples: number, side: 1 | -1): number {
  const allowed = LEFT_OUT * sum(dose);
  let reach = side === 1 ? after : before;
  for (let left = 0; reach > 0; reach--) {
    const pixel = before + side * reach;
    left += sum(dose.subarray(pixel * samples, (pixel + 1) * samples));
    if (left > allowed) break;
  }
  return reach;
}

const sum = (values: Float64Array): number => values.reduce((total, value) => total + value, 0);
