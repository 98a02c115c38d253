/** Pixels of 8 bits per channel, row by row. */
export interface RawPixels {
  readonly columns: number;
  readonly rows: number;
  /** Red, green, blue; with opacity if there are four. */
  readonly channels: 3 | 4;
  readonly data: Uint8Array;
  /** ICC profile; sRGB if absent. */
  readonly profile?: Uint8Array | undefined;
}

/** TIFF 6.0: [tag, type, values]. Types: 3 of two bytes, 4 of four, 7 of any. */
type Entry = readonly [tag: number, type: 3 | 4 | 7, values: readonly number[] | Uint8Array];

const bytesOfType = { 3: 2, 4: 4, 7: 1 } as const;
const HEADER_BYTES = 8;
const ENTRY_BYTES = 12;

/**
 * An uncompressed TIFF file with a colour profile, so that pixels of another decoder take the same way as any file: the decoder
 * takes no profile beside bare pixels.
 */
export function rawTiff({ columns, rows, channels, data, profile }: RawPixels): Uint8Array {
  const entries = (strip: number): readonly Entry[] => [
    [256, 4, [columns]],
    [257, 4, [rows]],
    [258, 3, Array.from({ length: channels }, () => 8)],
    [259, 3, [1]],
    [262, 3, [2]],
    [273, 4, [strip]],
    [277, 3, [channels]],
    [278, 4, [rows]],
    [279, 4, [data.length]],
    ...(channels === 4 ? [[338, 3, [2]] as const] : []),
    ...(profile ? [[34675, 7, profile] as const] : []),
  ];
  const sizes = entries(0).map(([, type, values]) => bytesOfType[type] * values.length);
  const listBytes = 2 + ENTRY_BYTES * sizes.length + 4;
  const besideBytes = sizes.filter((size) => size > 4).reduce((sum, size) => sum + size + (size % 2), 0);
  const strip = HEADER_BYTES + listBytes + besideBytes;
  const file = new Uint8Array(strip + data.length);
  const view = new DataView(file.buffer);
  file.set([0x49, 0x49, 42, 0, HEADER_BYTES]);
  view.setUint16(HEADER_BYTES, sizes.length, true);
  let beside = HEADER_BYTES + listBytes;
  entries(strip).forEach(([tag, type, values], i) => {
    const at = HEADER_BYTES + 2 + ENTRY_BYTES * i;
    view.setUint16(at, tag, true);
    view.setUint16(at + 2, type, true);
    view.setUint32(at + 4, values.length, true);
    const isBeside = sizes[i] > 4;
    if (isBeside) view.setUint32(at + 8, beside, true);
    writeValues(view, isBeside ? beside : at + 8, type, values);
    if (isBeside) beside += sizes[i] + (sizes[i] % 2);
  });
  file.set(data, strip);
  return file;
}

function writeValues(view: DataView, at: number, type: Entry[1], values: Entry[2]): void {
  values.forEach((value, k) => {
    if (type === 3) view.setUint16(at + 2 * k, value, true);
    else if (type === 4) view.setUint32(at + 4 * k, value, true);
    else view.setUint8(at + k, value);
  });
}
