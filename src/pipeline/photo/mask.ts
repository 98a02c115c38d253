import { decodePhoto, type Photo } from "../../1-photo/decode.js";
import { resampledRows } from "../../3-resample/resample.js";
import { createKernelMemory } from "../../core/kernel-memory.js";
import { columnsOf, denseData, type Plane, plane, rowsOf } from "../../core/plane.js";
import { planeOfRows } from "../../core/plane-rows.js";
import { refusal } from "../../core/refusals/refusals.js";
import type { ResolvedOptions } from "../../options/options.js";

type Opacity = Plane<"opacity", Uint16Array>;

const OPAQUE = 65535;

/** Bytes and file name of a mask. The name is absent if the mask was given as bytes only. */
export function maskFile(mask: NonNullable<ResolvedOptions["mask"]>): {
  readonly bytes: Uint8Array;
  readonly fileName?: string;
} {
  return mask instanceof Uint8Array ? { bytes: mask } : mask;
}

/**
 * The photo with the mask as its alpha channel, or with the product of both if it already has one. The mask is read like a photo,
 * upright after its own Exif orientation. Its grey value as encoded in the file (sRGB) is the opacity, and its transparent parts
 * count as black. A mask of another size is scaled to the photo with the triangle filter, which does not overshoot.
 *
 * Throws the errors of `decodePhoto`, and `INPUT_MASK_SHAPE` for another aspect ratio.
 */
export async function maskedPhoto(photo: Photo, mask: NonNullable<ResolvedOptions["mask"]>): Promise<Photo> {
  const { bytes, fileName } = maskFile(mask);
  const columns = columnsOf(photo.luminance);
  const rows = rowsOf(photo.luminance);
  const decoded = await decodePhoto(bytes, {
    ...(fileName !== undefined && { fileName }),
    role: "mask",
    minColumns: columns,
    minRows: rows,
  });
  const [maskColumns, maskRows] = [columnsOf(decoded.luminance), rowsOf(decoded.luminance)];
  if (!haveOneShape(columns, rows, maskColumns, maskRows)) {
    throw refusal(
      "mask-shape",
      { ...(fileName !== undefined && { fileName }), mask: [maskColumns, maskRows], photo: [columns, rows] },
      { received: [maskColumns, maskRows], allowed: `the shape of ${columns} × ${rows}` },
    );
  }
  const keeps = productOf(denseData(decoded.luminance), decoded.opacity && denseData(decoded.opacity));
  const scaled =
    maskColumns === columns && maskRows === rows
      ? keeps
      : scaledTo(columns, rows, keeps, maskColumns, maskRows);
  const opacity: Opacity = plane(
    "opacity",
    productOf(scaled, photo.opacity && denseData(photo.opacity)),
    rows,
    columns,
  );
  return { ...photo, opacity };
}

/** Sizes are whole numbers, so each side of a scaled picture may be off by up to one pixel. */
function haveOneShape(columns: number, rows: number, maskColumns: number, maskRows: number): boolean {
  const off = Math.abs(maskColumns * rows - maskRows * columns);
  return off <= Math.max(columns, rows, maskColumns, maskRows);
}

function productOf(a: Uint16Array, b: Uint16Array | undefined): Uint16Array {
  return b ? a.map((value, i) => Math.round((value * b[i]) / OPAQUE)) : a;
}

function scaledTo(
  columns: number,
  rows: number,
  mask: Uint16Array,
  sourceColumns: number,
  sourceRows: number,
): Uint16Array {
  const window = { left: 0, top: 0, width: sourceColumns, height: sourceRows };
  const row = resampledRows(
    { sourceColumns, sourceRows, window, columns, rows, filterAlong: "triangle", filterAcross: "triangle" },
    (j, out, at, step) => {
      let from = j * sourceColumns;
      for (let x = 0, to = at; x < sourceColumns; x++, to += step) out[to] = mask[from++] / OPAQUE;
    },
    createKernelMemory(),
  );
  return Uint16Array.from(planeOfRows(row, columns, rows), (share) => Math.round(share * OPAQUE));
}
