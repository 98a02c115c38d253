import type { Report } from "../../src/6-report/report.js";

/** Luminance that the eye is adapted to, in cd/m²: 10 where the report does not say. */
export function viewLuminanceOf({ job }: Report): number {
  return "viewLuminanceCdM2" in job ? Number(job.viewLuminanceCdM2) : 10;
}
