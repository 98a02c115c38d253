/** Colours of a map, by the values of its cells; a value without a colour is clear. */
export type MapColours = ReadonlyMap<number, readonly [red: number, green: number, blue: number]>;

/** Cells that become pixels of a small PNG with clear ground, to be laid over the picture. */
export async function encodeMap(
  cells: Uint8Array,
  { columns, rows }: { readonly columns: number; readonly rows: number },
  colours: MapColours,
): Promise<Uint8Array> {
  const { default: sharp } = await import("sharp");
  const rgba = new Uint8Array(4 * columns * rows);
  for (let i = 0; i < cells.length; i++) {
    const colour = colours.get(cells[i]);
    if (colour) rgba.set([...colour, OPAQUE], 4 * i);
  }
  return sharp(rgba, { raw: { width: columns, height: rows, channels: 4 } })
    .png({ palette: true })
    .toBuffer();
}

const OPAQUE = 255;
