import { switchingOf } from "../../5-burn/switching.js";
import type { Candidate } from "../../6-report/comparison.js";
import { microsecondsFromSeconds } from "../../core/units.js";
import { judgeFocus } from "../../pipeline/judge/judge-piece.js";
import type { FinishedPiece } from "../../pipeline/prepare.js";
import { differentTints, tintsOf } from "./tints.js";

/** What a comparison tells of a candidate beyond its report. */
export type CandidateFigures = Pick<
  Candidate,
  | "visualErrorUnderdosed"
  | "visualErrorOverdosed"
  | "visualErrorSmallerSpot"
  | "visualErrorLargerSpot"
  | "tints"
  | "differentTints"
  | "switching"
>;

export function figuresOf(piece: FinishedPiece): CandidateFigures {
  const { memory, model, bitmap, codes, errors, options } = piece;
  const focus = judgeFocus(memory, model, bitmap, codes, options);
  const { made, asked } = differentTints(piece);
  const { transitionsPerLine, shortestBurstPx, meanBurstPx } = switchingOf(bitmap);
  const { speedMmPerS, firingLagUs } = options;
  const shortestBurstMm = shortestBurstPx * options.pitch.alongMm;
  const shortestBurstUs = microsecondsFromSeconds(shortestBurstMm / speedMmPerS);
  return {
    visualErrorUnderdosed: errors.underdosed.rms,
    visualErrorOverdosed: errors.overdosed.rms,
    visualErrorSmallerSpot: focus.smallerSpot.rms,
    visualErrorLargerSpot: focus.largerSpot.rms,
    tints: tintsOf(piece),
    ...(made < asked && { differentTints: made }),
    switching: {
      transitionsPerLine,
      shortestBurstMm,
      shortestBurstUs,
      ...(firingLagUs > 0 && { shortestBurstInLags: shortestBurstUs / firingLagUs }),
      meanBurstMm: meanBurstPx * options.pitch.alongMm,
    },
  };
}
