import type { SurfaceLightness } from "../../2-tone/fade.js";
import { type Frame, mirroredPlacement } from "../../3-resample/frame.js";
import { insideBent } from "../../3-resample/inside-bent.js";
import { type Outline, outlineRows } from "../../3-resample/outline.js";
import { sheetOutlineRows } from "../../3-resample/sheet-outline.js";
import { type BorderWidth, borderWidths } from "../../5-burn/border-width.js";
import { halfResponseDose } from "../../core/material/half-response.js";
import { luminanceFactorAt, meanLuminanceFactor } from "../../core/material/response.js";
import type { PackedBitmap } from "../../core/packed-bits.js";
import { lightnessFromLuminance, luminanceFromLightness } from "../../core/physics/lightness.js";
import { rippleDoses } from "../../core/physics/line-dose.js";
import { BORDER, type EdgeRows } from "../../core/picture-edge.js";
import type { PixelRectangle } from "../../core/pixel-rectangle.js";
import { refusal } from "../../core/refusals/refusals.js";
import type { ResolvedOptions } from "../../options/options.js";
import { captionOf } from "./caption.js";

/** The widths of a job's border; undefined without a border. */
export function borderOf({
  borderMm,
  pitch,
  spot,
  motion,
  material,
  oval,
}: ResolvedOptions): ReturnType<typeof borderWidths> | undefined {
  if (borderMm === undefined) return;
  const { curve, lineExponent } = material;
  const solid = meanLuminanceFactor(curve, rippleDoses(pitch.acrossMm / spot.acrossMm, lineExponent));
  const half = halfResponseDose(curve, solid);
  return borderWidths(borderMm, { pitch, spot, motion }, half, oval, lineExponent);
}

/**
 * The outline of the picture on the bitmap, and the text below it, mirrored like the bitmap; undefined if the picture is the whole of a
 * rectangle.
 */
export function edgeRowsOf(frame: Frame, options: ResolvedOptions): EdgeRows | undefined {
  const outline = outlineOf(frame, options);
  const caption = captionOf(frame, options);
  if (!caption) return outline;
  const whole = new Float32Array(frame.columns).fill(1);
  return (y) => (y >= caption.top ? caption.row(y) : (outline?.(y) ?? whole));
}

function outlineOf(frame: Frame, options: ResolvedOptions): EdgeRows | undefined {
  const { oval, vignetteMm = 0, borderGapMm: gapMm, pitch, mirror } = options;
  const border = borderOf(options);
  const { columns, rows, placement, closed, sheet } = frame;
  const isPlain = !oval && !border && vignetteMm === 0 && gapMm === 0;
  if (isPlain && !sheet?.picture) return undefined;
  const mm = (width: BorderWidth | undefined, pitchMm: number) => (width ? width.px * pitchMm : 0);
  const outline: Outline = {
    ...{ oval, gapMm, vignetteMm, closed },
    borderVerticalMm: mm(border?.vertical, pitch.alongMm),
    borderHorizontalMm: mm(border?.horizontal, pitch.acrossMm),
  };
  if (sheet?.picture) return sheetOutlineRows(outline, sheet, sheet.picture, { columns, rows, pitch });
  return outlineRows(outline, mirror ? mirroredPlacement(placement, columns) : placement, columns, pitch);
}

/** Throws `OPTION_TOO_LARGE` if border, gap and vignette leave no picture. */
export function checkOutline(
  { placement, closed, sheet }: Frame,
  { vignetteMm = 0, borderMm = 0, borderGapMm, pitch }: ResolvedOptions,
): void {
  const sidesMm = sheet?.picture
    ? [sheet.picture.widthMm, sheet.picture.heightMm]
    : [placement.columns * pitch.alongMm, placement.rows * pitch.acrossMm];
  const roomMm = (closed ? sidesMm[1] : Math.min(...sidesMm)) / 2;
  const bandMm = borderMm + borderGapMm;
  if (bandMm < roomMm && bandMm + vignetteMm <= roomMm) return;
  const option = bandMm < roomMm ? "vignetteMm" : borderMm >= borderGapMm ? "borderMm" : "borderGapMm";
  throw refusal("outline-too-wide", { option, sidesMm, takenMm: bandMm + vignetteMm, roomMm });
}

/** The largest rectangle inside border and gap, or inside their oval, in pixels as seen; undefined if the picture fills its box. */
export function insideOutline(frame: Frame, options: ResolvedOptions): PixelRectangle | undefined {
  const { oval, borderMm = 0, borderGapMm, pitch } = options;
  const { placement, closed, sheet } = frame;
  if (sheet?.picture) {
    const { widthMm, heightMm } = sheet.picture;
    const open = (mm: number): number => {
      const openMm = mm - 2 * (borderMm + borderGapMm);
      return oval ? Math.SQRT1_2 * openMm : openMm;
    };
    return insideBent(frame, sheet, sheet.picture, { widthMm: open(widthMm), heightMm: open(heightMm) });
  }
  if (!oval && borderMm + borderGapMm === 0) return options.text === undefined ? undefined : placement;
  const inset = (length: number, pitchMm: number): number => {
    const open = length / 2 - (borderMm + borderGapMm) / pitchMm;
    return Math.min(
      Math.floor((length - 1) / 2),
      Math.ceil(length / 2 - (oval ? Math.SQRT1_2 * open : open)),
    );
  };
  const along = closed ? 0 : inset(placement.columns, pitch.alongMm);
  const across = inset(placement.rows, pitch.acrossMm);
  return {
    left: placement.left + along,
    top: placement.top + across,
    columns: placement.columns - 2 * along,
    rows: placement.rows - 2 * across,
  };
}

/** The lightness of the surface by the photo's luminance under the tone map. */
export function surfaceLightness({ toneMap, material }: ResolvedOptions): SurfaceLightness {
  if (toneMap === "lightness") return { of: lightnessFromLuminance, luminanceOf: luminanceFromLightness };
  const { bare, darkens } = material.curve;
  const solid = luminanceFactorAt(material.curve, 1);
  const [dark, light] = darkens ? [solid, bare] : [bare, solid];
  return {
    of: (luminance) => lightnessFromLuminance(dark + (light - dark) * luminance),
    luminanceOf: (lightness) => (luminanceFromLightness(lightness) - dark) / (light - dark),
  };
}

/**
 * Burn every pixel of the border and of the text at full power. A halftone leaves out a pixel of a solid area if its neighbours burned more than
 * requested.
 *
 * @param band `count` rows from y on, changed in place
 */
export function burnBorder(
  edge: EdgeRows,
  { bytes, stride, levels }: Pick<PackedBitmap, "bytes" | "stride" | "levels">,
  y: number,
  count: number,
): void {
  for (let row = 0; row < count; row++) {
    const shares = edge(y + row);
    for (let x = 0; x < shares.length; x++) {
      if (shares[x] !== BORDER) continue;
      if (levels > 2) bytes[row * stride + x] = levels - 1;
      else bytes[row * stride + (x >> 3)] |= 128 >> (x & 7);
    }
  }
}
