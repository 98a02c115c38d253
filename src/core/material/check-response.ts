import { monotoneCubic } from "../monotone-cubic.js";
import { lightnessFromLuminance } from "../physics/lightness.js";
import { refusal } from "../refusals/refusals.js";
import type { ResponsePoints } from "./response.js";
import { doseAtLightnessShare } from "./tone-range.js";

/** Refuses rows that are out of range or out of order. */
export function checkRows(points: ResponsePoints): void {
  let direction = 0;
  points.forEach(([dose, luminance], index) => {
    const at = { row: index + 1, dose, luminance };
    if (!(dose >= 0)) throw refusal("material-negative-dose", at);
    if (!(luminance >= 0 && luminance <= 1)) throw refusal("material-wrong-luminance", at);
    if (index === 0) return;
    const [doseBefore, luminanceBefore] = points[index - 1];
    if (!(dose > doseBefore)) throw refusal("material-falling-doses", { ...at, before: doseBefore });
    const step = Math.sign(luminance - luminanceBefore);
    if (step !== 0 && direction !== 0 && step !== direction) throw refusal("material-turning", at);
    if (step !== 0) direction = step;
  });
  if (direction === 0) throw refusal("material-never-changes", {});
}

/** A smaller change of L* is just noticeable at best: no picture can be made of it. */
const NOTICEABLE = 1;
/** No surface takes its whole change in the hundredth part of a solid fill: such doses are in another unit. */
const TINY_DOSE = 0.01;

/**
 * Refuses a response with which every tone comes out bare or every tone comes out solid.
 *
 * @param points doses in solid fills
 * @param solidDose dose of a solid fill in the file: 100 if that counts in percent
 */
export function checkRange(points: ResponsePoints, solidDose: number): void {
  const lightness = points.map(([, luminance]) => lightnessFromLuminance(luminance));
  const range = Math.abs(lightness[lightness.length - 1] - lightness[0]);
  if (range < NOTICEABLE) throw refusal("material-no-range", { lightness: range });
  const curve = monotoneCubic(
    points.map(([dose]) => dose),
    points.map(([, luminance]) => luminance),
  );
  const marked = Math.abs(lightnessFromLuminance(curve(1)) - lightness[0]);
  if (marked < NOTICEABLE) {
    const [firstDose] = points[0];
    if (firstDose >= 1) throw refusal("material-no-bare-row", { dose: firstDose * solidDose });
    throw refusal("material-solid-unmarked", {
      dose: doseAtLightnessShare(points, 0.5) * solidDose,
      solidDose,
    });
  }
  const complete = doseAtLightnessShare(points, 0.9);
  if (complete < TINY_DOSE) throw refusal("material-all-solid", { dose: complete * solidDose, solidDose });
}
