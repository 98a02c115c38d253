import type { Frame } from "../../3-resample/frame.js";
import { clusteredScreen } from "../../4-halftone/clustered-dot.js";
import type { Report, ReportPlaced } from "../../6-report/report.js";
import { type Frustum, frustum } from "../../core/physics/frustum.js";
import { type Circles, circumferenceMm, isCone, middleDiameterMm, type Wrap } from "../../core/wrap.js";
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
  const { circles } = frame;
  if (!wrap || !circles) return undefined;
  const placed = describePlaced(wrap, circles, frame);
  const screen = methodId === "clustered-dot" ? clusteredScreen(halftoneSettings(job)) : undefined;
  return {
    topDiameterMm: circles.topMm,
    bottomDiameterMm: circles.bottomMm,
    circumferenceMm: circumferenceMm(middleDiameterMm(circles)),
    ...(seam && { seam }),
    ...(screen && { screen: { linesPerInch: screen.linesPerInch, angleDeg: screen.angleDeg } }),
    ...(placed && { placed }),
    ...(isCone(circles) && {
      cone: { layout: wrap.layout, ...describeCone(circles, frame, pitch.alongMm, spot.alongMm) },
    }),
  };
}

/** Wherever the picture lies, its middle is the middle of the bitmap. */
function describePlaced(
  { topMm, bottomMm, placing }: Wrap,
  circles: Circles,
  { placed, sheet }: Frame,
): ReportPlaced | undefined {
  if (!placing || !placed) return undefined;
  const { angleDeg, wallMm } = placing;
  const turnDeg = 360 * placed.turn;
  const startAngleDeg = (((angleDeg - turnDeg / 2) % 360) + 360) % 360;
  return {
    pictureWidthMm: placed.widthMm,
    pictureHeightMm: placed.heightMm,
    angleDeg,
    startAngleDeg,
    startAlongMm: (startAngleDeg / 360) * circumferenceMm(middleDiameterMm(circles)),
    turnDeg,
    ...(placed.fromRim && { fromRim: placed.fromRim }),
    ...(wallMm !== undefined && {
      wall: { lengthMm: wallMm, rimDiameterMm: topMm, footDiameterMm: bottomMm },
    }),
    ...(isCone(circles) && { bend: bendOf(circles, placed, sheet) }),
  };
}

/** A level line of length w through the middle of the picture, as an arc of its circle: r (1 − cos(w/2r)) high. */
function bendOf(
  circles: Circles,
  { widthMm, heightMm }: NonNullable<Frame["placed"]>,
  sheet: Frame["sheet"],
): NonNullable<ReportPlaced["bend"]> {
  const { innerRadiusMm, slantMm } = sheet?.frustum ?? frustum(circles.topMm, circles.bottomMm, heightMm);
  const radiusMm = sheet?.picture
    ? Math.abs(sheet.picture.topMm + sheet.picture.heightMm / 2)
    : innerRadiusMm + slantMm / 2;
  return {
    bowMm: radiusMm * (1 - Math.cos(widthMm / 2 / radiusMm)),
    taperMm: (widthMm * heightMm) / radiusMm,
  };
}

function describeCone(
  circles: Circles,
  frame: Frame,
  pitchMm: number,
  spotMm: number,
): Omit<NonNullable<Around["cone"]>, "layout"> {
  const cone: Frustum = frustum(circles.topMm, circles.bottomMm, frame.heightMm);
  const middleMm = middleDiameterMm(circles);
  const ends = [0, frame.rows - 1].map((y) => diameterOfRowMm(circles, y, frame.rows) / middleMm);
  const [narrow, wide] = [Math.min(...ends), Math.max(...ends)];
  const range = (least: number, most: number): Range => ({ least, most });
  return {
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
