import { switchingOf } from "../../5-burn/switching.js";
import type { Candidate } from "../../6-report/comparison.js";
import { microsecondsFromSeconds } from "../../core/units.js";
import type { JudgedPiece } from "../../pipeline/made-piece.js";
import { differentTints, tintsOf } from "./tints.js";

/** Figures of a candidate that its report does not have. */
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

export function figuresOf(piece: JudgedPiece): CandidateFigures {
  const { job, bitmap, errors } = piece;
  const { made, asked } = differentTints(piece);
  const { transitionsPerLine, shortestBurstPx, meanBurstPx } = switchingOf(bitmap);
  const { speedMmPerS, firingLagUs, firingLossUs } = job.options;
  const shortestBurstMm = shortestBurstPx * job.options.pitch.alongMm;
  const shortestBurstUs = microsecondsFromSeconds(shortestBurstMm / speedMmPerS);
  return {
    visualErrorUnderdosed: errors.underdosed.rms,
    visualErrorOverdosed: errors.overdosed.rms,
    visualErrorSmallerSpot: errors.smallerSpot.rms,
    visualErrorLargerSpot: errors.largerSpot.rms,
    tints: tintsOf(piece),
    ...(made < asked && { differentTints: made }),
    switching: {
      transitionsPerLine,
      shortestBurstMm,
      shortestBurstUs,
      ...(firingLagUs > 0 && { shortestBurstInLags: shortestBurstUs / firingLagUs }),
      ...(firingLossUs > 0 && { shortestBurstInLosses: shortestBurstUs / firingLossUs }),
      meanBurstMm: meanBurstPx * job.options.pitch.alongMm,
    },
  };
}
