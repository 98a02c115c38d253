/** Longer side, in pixels: sharp on a screen of double density at the size of the contact sheet. */
const LONGER_SIDE_PX = 320;

/** A small WebP of a picture file, for the contact sheet. */
export async function thumbnail(picture: Uint8Array): Promise<Uint8Array> {
  const { default: sharp } = await import("sharp");
  return sharp(picture)
    .resize({ width: LONGER_SIDE_PX, height: LONGER_SIDE_PX, fit: "inside", withoutEnlargement: true })
    .webp({ quality: 60 })
    .toBuffer();
}
