import type { Frame } from "../../3-resample/frame.js";
import { clusteredScreen } from "../../4-halftone/clustered-dot.js";
import type { Report } from "../../6-report/report.js";
import { type Frustum, frustum } from "../../core/physics/frustum.js";
import { circumferenceMm, isCone, middleDiameterMm, type Wrap } from "../../core/wrap.js";
import { halftoneSettings, type Job } from "../job.js";
import { diameterOfRowMm } from "./round-piece.js";
import type { SeamStep } from "./seam.js";

type Around = NonNullable<Report["job"]["around"]>;
type Range = { readonly least: number; readonly most: number };

/** The report's facts about a round piece; undefined for a flat one. */
export function describeAround(
  job: Job,
  frame: Frame,
  methodId: string,
  seam: SeamStep | undefined,
): Around | undefined {
  const { wrap, pitch, spot } = job.options;
  if (!wrap) return undefined;
  const screen = methodId === "clustered-dot" ? clusteredScreen(halftoneSettings(job)) : undefined;
  return {
    topDiameterMm: wrap.topMm,
    bottomDiameterMm: wrap.bottomMm,
    circumferenceMm: circumferenceMm(middleDiameterMm(wrap)),
    ...(seam && { seam }),
    ...(screen && { screen: { linesPerInch: screen.linesPerInch, angleDeg: screen.angleDeg } }),
    ...(isCone(wrap) && { cone: describeCone(wrap, frame, pitch.alongMm, spot.alongMm) }),
  };
}

function describeCone(
  wrap: Wrap,
  frame: Frame,
  pitchMm: number,
  spotMm: number,
): NonNullable<Around["cone"]> {
  const cone: Frustum = frustum(wrap.topMm, wrap.bottomMm, frame.heightMm);
  const ends = [0, frame.rows - 1].map((y) => diameterOfRowMm(wrap, y, frame.rows) / middleDiameterMm(wrap));
  const [narrow, wide] = [Math.min(...ends), Math.max(...ends)];
  const range = (least: number, most: number): Range => ({ least, most });
  return {
    layout: wrap.layout,
    slantHeightMm: cone.slantMm,
    axialHeightMm: cone.axialMm,
    halfAngleDeg: degrees(cone.halfAngleRad),
    sectorAngleDeg: degrees(cone.sectorAngleRad),
    sectorInnerRadiusMm: cone.innerRadiusMm,
    sectorOuterRadiusMm: cone.outerRadiusMm,
    pitchAlongMm: range(pitchMm * narrow, pitchMm * wide),
    overdriveAlong: range(spotMm / (pitchMm * wide), spotMm / (pitchMm * narrow)),
    doseFactor: range(1 / wide, 1 / narrow),
  };
}

const degrees = (radians: number): number => (radians * 180) / Math.PI;
