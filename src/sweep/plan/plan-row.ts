import { decodePhoto, type Photo } from "../../1-photo/decode.js";
import { detailLimits } from "../../5-burn/detail.js";
import type { PlanRow, WorkKind } from "../../6-report/plan.js";
import type { KernelMemory } from "../../core/kernel-memory.js";
import { charRiskOf } from "../../core/material/char-risk.js";
import { gapMm } from "../../core/physics/coverage.js";
import { linesPerInchFromPitchMm } from "../../core/units.js";
import { type PrepareOptions, type ResolvedOptions, resolveOptions } from "../../options/options.js";
import { densityFacts } from "../../pipeline/describe/density-facts.js";
import { effectivePxPerMm } from "../../pipeline/describe/describe-piece.js";
import { decodeHints, frameOf } from "../../pipeline/photo/piece-size.js";
import { shownPhoto } from "../../pipeline/photo/shown-photo.js";
import { photoRow } from "./photo-row.js";
import { shadeSetting, solidRunTime, wantedLightness } from "./solid-row.js";
import { blankPicture, tonalTarget } from "./tonal-target.js";

/** One density of one lens to work out, in a form that can be sent to another thread. */
export interface RowRequest {
  readonly lens: number;
  readonly kind: WorkKind;
  /** With density and spot. Without a photo both sizes are given. */
  readonly options: PrepareOptions;
  readonly darkness: number;
  /** Measured width of a line, in place of the computed one. */
  readonly markMm: number | undefined;
}

/** Where the rows of a plan come from: one photo, decoded and masked once unless it is a drawing, or a built-in picture. */
export interface PictureSource {
  readonly bytes: Uint8Array | undefined;
  readonly fileName: string;
  decoded?: Photo;
  /** What of it is engraved: the same for all rows. */
  shown?: Photo;
}

/** The row of one density: the same figures that `prepare` reports at it, by the same functions. */
export async function planRow(
  memory: KernelMemory,
  request: RowRequest,
  source: PictureSource,
): Promise<PlanRow> {
  const options = resolveOptions(request.options);
  const { pitch, spot, motion, material } = options;
  const picture = await pictureFor(source, request.kind, options);
  const frame = frameOf(picture, options);
  const { solidDoseFactor, powerFactor, dotCoverage, levelsPerSpot, ...density } = densityFacts(
    pitch,
    spot,
    material,
  );
  const photo =
    request.kind === "photo"
      ? await photoRow(memory, await shownFor(source, picture, options), frame, options)
      : undefined;
  const runTime = photo?.runTime ?? solidRunTime(frame, options);
  const shade =
    request.kind === "shade"
      ? shadeSetting(
          memory,
          frame,
          options,
          wantedLightness(options.material, request.darkness),
          density.peakDose,
        )
      : undefined;
  const burns = request.kind === "photo" ? { dose: 1, peakDose: density.peakDose } : shade;
  const charRisk = burns && charRiskOf(material.charDose, burns.dose, burns.peakDose);
  const pxPerMm = source.bytes ? effectivePxPerMm(frame, options) : Number.POSITIVE_INFINITY;
  const { photoLpPerMm, ...detail } = detailLimits(pitch, spot, motion, pxPerMm);
  return {
    lens: request.lens,
    linesPerInch: linesPerInchFromPitchMm(pitch.acrossMm),
    pitchMm: pitch.acrossMm,
    overdrive: spot.acrossMm / pitch.acrossMm,
    columns: frame.columns,
    rows: frame.rows,
    seconds: runTime.seconds,
    lines: runTime.lines,
    beamOnSeconds: runTime.beamOnSeconds,
    ...density,
    ...(request.markMm !== undefined && {
      markWidthMm: request.markMm,
      markGapMm: gapMm(pitch.acrossMm, request.markMm),
    }),
    doseFactor: solidDoseFactor,
    powerFactor,
    ...(charRisk && { charRisk }),
    detail: source.bytes ? { ...detail, photoLpPerMm } : detail,
    ...photo?.parts,
    ...(shade && { shade }),
  };
}

async function shownFor(source: PictureSource, picture: Photo, options: ResolvedOptions): Promise<Photo> {
  if (picture !== source.decoded || picture.format === "svg") return shownPhoto(picture, options);
  source.shown ??= await shownPhoto(picture, options);
  return source.shown;
}

async function pictureFor(source: PictureSource, kind: WorkKind, options: ResolvedOptions): Promise<Photo> {
  const { bytes, fileName, decoded } = source;
  if (decoded && decoded.format !== "svg") return decoded;
  if (bytes) {
    source.decoded = await decodePhoto(bytes, decodeHints(options, { fileName }));
    return source.decoded;
  }
  const { widthMm = 0, heightMm = 0, spot } = options;
  // A solid takes nothing of a picture but its size.
  return kind === "photo"
    ? tonalTarget(widthMm, heightMm, Math.sqrt(spot.alongMm * spot.acrossMm))
    : blankPicture();
}
