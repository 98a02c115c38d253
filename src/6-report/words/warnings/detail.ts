import { defaultLinesPerInch } from "../../../core/default-density.js";
import { speedLimitWords, speedWords } from "../../../core/shown-units.js";
import { wholePercent } from "../../../core/words.js";
import { fixed } from "../matter.js";
import { LARGER_PHOTO } from "../shared-matters.js";
import { type Judged, warning } from "./rule.js";

/** The photo should carry at least this share of the detail that pitch and spot allow. */
const ENOUGH_DETAIL = 0.6;

/** Line pairs per mm: of the photo, of the lines, and of lines whose spots just touch. */
function carriedBy({ job, detail }: Judged) {
  const linesLpPerMm = Math.min(detail.acrossLpPerMm.at10, detail.alongLpPerMm.at10);
  const matchedLpPerMm = Math.min(linesLpPerMm, 1 / (2 * Math.max(job.spotAlongMm, job.spotAcrossMm)));
  return { photoLpPerMm: detail.photoLpPerMm, linesLpPerMm, matchedLpPerMm };
}

const isCoarse = (photoLpPerMm: number, lpPerMm: number): boolean => photoLpPerMm < ENOUGH_DETAIL * lpPerMm;

/** Up to this part of a pixel a longer or shorter burst hardly shows. */
const MUCH_LOST_PX = 0.1;

/** Methods whose dots hang together: they depend least on the length of bursts. */
const LARGE_DOTS = ["green-noise", "clustered-dot"];

/** What is left of a pixel and rounds to 0 % is nothing. */
const MIN_LEFT = 0.005;

/** What happens to a single pixel, or to a gap of one. */
function smallestWords(lossPx: number): string {
  const left = 1 - Math.abs(lossPx);
  const [single, gone] = lossPx > 0 ? ["a lone pixel", "vanishes"] : ["a gap of one pixel", "closes"];
  return left >= MIN_LEFT ? `${single} keeps ${wholePercent(left)} of its length` : `${single} ${gone}`;
}

/** Microseconds, with digits where they are few. */
const timeWords = (us: number): string => fixed(us, us < 1 ? 2 : us < 10 ? 1 : 0);

/** Lost detail. */
export const detailWarnings = {
  "photo-coarse-for-size": warning({
    title: "A coarse picture for this size",
    when: (judged) => {
      const { photoLpPerMm, matchedLpPerMm } = carriedBy(judged);
      return isCoarse(photoLpPerMm, matchedLpPerMm) && { photoLpPerMm, matchedLpPerMm };
    },
    happens: ({ photoLpPerMm, matchedLpPerMm }) =>
      `The picture is coarse for this size: it carries ${fixed(photoLpPerMm, 1)} line pairs per mm, and spots that just touch carry ${fixed(matchedLpPerMm, 1)}.`,
    whatToDo: () => LARGER_PHOTO,
  }),
  "photo-coarser-than-density": warning({
    title: "More lines than the photo can use",
    when: (judged) => {
      const { job, facts } = judged;
      const { photoLpPerMm, linesLpPerMm, matchedLpPerMm } = carriedBy(judged);
      const beyondUsual = job.linesPerInch > defaultLinesPerInch(job.spotAcrossMm, facts);
      return (
        job.kind === "photo" &&
        beyondUsual &&
        !isCoarse(photoLpPerMm, matchedLpPerMm) &&
        isCoarse(photoLpPerMm, linesLpPerMm) && {
          photoLpPerMm,
          linesLpPerMm,
          matchedLinesPerInch: job.matchedLinesPerInch,
        }
      );
    },
    happens: ({ photoLpPerMm, linesLpPerMm }) =>
      `The photo carries ${fixed(photoLpPerMm, 1)} line pairs per mm, and this density ${fixed(linesLpPerMm, 1)}: the extra lines gain tones, not detail.`,
    whatToDo: ({ matchedLinesPerInch }) =>
      `To save machine time, lower the density: spots just touch at ${Math.round(matchedLinesPerInch)} lines per inch. Keep it if its tones are worth the time.`,
  }),
  "firing-blurs": warning({
    title: "The firing lag blurs fine detail",
    when: ({ detail: { photoLpPerMm, alongLimits }, facts: { speedMmPerS } }) => {
      const { firingLpPerMm, firingFreeUpToMmPerS, limitedBy, spotLpPerMm, pitchLpPerMm } = alongLimits;
      if (limitedBy !== "firing" || firingLpPerMm === undefined || firingFreeUpToMmPerS === undefined) return;
      const othersLpPerMm = Math.min(spotLpPerMm, pitchLpPerMm);
      return (
        photoLpPerMm > firingLpPerMm && { speedMmPerS, firingLpPerMm, othersLpPerMm, firingFreeUpToMmPerS }
      );
    },
    happens: ({ speedMmPerS, firingLpPerMm, othersLpPerMm }, { units }) =>
      `At ${speedWords(speedMmPerS, units)} the firing lag leaves half the contrast at ${fixed(firingLpPerMm, 1)} line pairs per mm along the lines, where spot and pitch carry ${fixed(othersLpPerMm, 1)}.`,
    whatToDo: ({ firingFreeUpToMmPerS }, reader) =>
      `Up to ${speedLimitWords(firingFreeUpToMmPerS, reader.units)} the lag is not the limit. Lower ${reader.option("speedMmPerS")} to that, and the power by the same factor.`,
  }),
  "bursts-shortened": warning({
    title: "Bursts that burn too short or too long",
    when: ({ job, detail: { alongLimits }, facts: { firingLossUs, speedMmPerS } }) => {
      const { firingLossMm = 0 } = alongLimits;
      const lossPx = firingLossMm / job.pitchAlongMm;
      const slowerMmPerS = (speedMmPerS * MUCH_LOST_PX) / Math.abs(lossPx);
      return (
        job.kind === "photo" &&
        Math.abs(lossPx) > MUCH_LOST_PX && {
          ...{ speedMmPerS, firingLossUs, lossPx, slowerMmPerS },
          smallDots: !LARGE_DOTS.includes(job.method),
        }
      );
    },
    happens: ({ speedMmPerS, firingLossUs, lossPx }, reader) =>
      `At ${speedWords(speedMmPerS, reader.units)} the source ${firingLossUs > 0 ? "starts" : "stops"} ${timeWords(Math.abs(firingLossUs))} µs late (${reader.option("firingLossUs")}): every burst is ${fixed(Math.abs(lossPx), 2)} pixels too ${lossPx > 0 ? "short" : "long"}, and ${smallestWords(lossPx)}. The tone curve allows for that, but a small change of the time now changes the tones.`,
    whatToDo: ({ slowerMmPerS, smallDots }, reader) =>
      `Up to ${speedLimitWords(slowerMmPerS, reader.units)} it is no more than a tenth of a pixel: lower ${reader.option("speedMmPerS")}, and the power by the same factor.${smallDots ? ` Or set ${reader.setting("method", "green-noise")}, whose dots are larger.` : ""}`,
  }),
  "lines-shifted": warning({
    title: "Shifted lines",
    when: ({ job, detail: { alongLimits }, facts }) => {
      const shiftMm = Math.abs(facts.lineShiftMm);
      // There |cos(π f Δ)| is 0.5.
      const halfLpPerMm = 1 / (3 * shiftMm);
      const { spotLpPerMm, pitchLpPerMm } = alongLimits;
      return (
        job.kind === "photo" && halfLpPerMm < Math.min(spotLpPerMm, pitchLpPerMm) && { shiftMm, halfLpPerMm }
      );
    },
    happens: ({ shiftMm, halfLpPerMm }, reader) =>
      `Every other line is shifted by ${fixed(shiftMm, 3)} mm (${reader.option("lineShiftMm")}): along the lines half the contrast is lost at ${fixed(halfLpPerMm, 1)} line pairs per mm, and vertical edges fray.`,
    whatToDo: (_, reader) =>
      `Set the machine's own correction for two-way work until the shift is gone, or burn one way with ${reader.setting("oneWay", true)}.`,
  }),
};
