import { frustum } from "../core/physics/frustum.js";
import { refusal } from "../core/refusals/refusals.js";
import {
  checkSlant,
  circumferenceMm,
  isCone,
  middleDiameterMm,
  type Placing,
  type Wrap,
} from "../core/wrap.js";
import { type BentPicture, bentFrame } from "./bent.js";
import { type Frame, type FrameRequest, frameJob, type PlacedPicture } from "./frame.js";

/**
 * Lay a picture on a part of a round piece. On a cylinder, and with its rows along the circles of a cone, it is like a flat one. A
 * picture that lies undistorted on a cone is bent on the grid (`bent.ts`). Its columns have the pitch of the job half-way down.
 *
 * Without a distance from the rim the picture lies in the middle of the wall. Without a wall the diameters of a cone are those at
 * the top and bottom of the picture.
 *
 * Throws `OPTION_CONFLICT` if the picture is wider than a turn, leaves the wall, or makes no cone.
 */
export function framePlaced(request: FrameRequest, wrap: Wrap, placing: Placing): Frame {
  const flat = frameJob(request);
  const { widthMm, heightMm } = flat;
  const { wallMm, fromRimMm = wallMm === undefined ? undefined : (wallMm - heightMm) / 2 } = placing;
  const slantMm = wallMm ?? heightMm;
  if (isCone(wrap)) checkSlant(wrap, slantMm);
  const downMm = fromRimMm ?? 0;
  const slackMm = request.pitch.acrossMm;
  checkWall(downMm, downMm + heightMm, wallMm, slackMm);
  const picture = { widthMm, heightMm };
  if (isCone(wrap) && wrap.layout === "flat") {
    const cone = frustum(wrap.topMm, wrap.bottomMm, slantMm);
    const bent = bentFrame(flat, cone, downMm, request.pitch);
    checkWall(bent.startMm, bent.endMm, wallMm, slackMm);
    checkTurn(picture.widthMm, bent);
    return placed(bent.frame, { ...picture, turn: bent.turn }, fromRimMm, bent.startMm);
  }
  const diameterMm = (mm: number): number => wrap.topMm + ((wrap.bottomMm - wrap.topMm) * mm) / slantMm;
  const [topMm, bottomMm] = [downMm, downMm + heightMm].map(diameterMm);
  const roundMm = circumferenceMm(middleDiameterMm({ topMm, bottomMm }));
  const turn = widthMm / roundMm;
  checkTurn(widthMm, { pictureTurn: turn, roundMm });
  const frame = { ...flat, circles: { topMm, bottomMm, ring: false } };
  return placed(frame, { ...picture, turn }, fromRimMm, downMm);
}

const placed = (
  frame: Frame,
  picture: Omit<PlacedPicture, "fromRim">,
  fromRimMm: number | undefined,
  startMm: number,
): Frame => ({
  ...frame,
  placed: {
    ...picture,
    ...(fromRimMm !== undefined && { fromRim: { pictureMm: fromRimMm, bitmapMm: startMm } }),
  },
});

/** @param slackMm what rounding to whole pixels may add */
function checkWall(fromMm: number, toMm: number, wallMm: number | undefined, slackMm: number): void {
  if (wallMm === undefined || (fromMm >= -slackMm && toMm <= wallMm + slackMm)) return;
  throw refusal("off-the-wall", { fromMm, toMm, wallMm });
}

function checkTurn(
  widthMm: number,
  { pictureTurn, roundMm }: Pick<BentPicture, "pictureTurn" | "roundMm">,
): void {
  if (pictureTurn > 1) throw refusal("picture-too-wide", { widthMm, roundMm }, { received: widthMm });
}
