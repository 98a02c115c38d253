import type { Report } from "../report.js";

/** What a search did: `for the least error at the settings; begun with blue-noise, 6 passes`. */
export function searchWords({
  aim,
  start,
  startBitmap,
  passes,
}: NonNullable<Report["job"]["search"]>): string {
  if (passes === 0) return "not searched: the time was over before the first pass was";
  const where = aim === "nominal" ? "at the settings" : "on a machine that varies";
  return `for the least error ${where}; begun with ${startBitmap ?? start}, ${passes} ${passes === 1 ? "pass" : "passes"}`;
}
