/** Cameras leave no more bytes than this after the last block (common practice, no source). */
const MAX_STRAY_BYTES = 8;

/** A Huffman table by the next 16 bits: 32 × (coefficients to advance) + (bits of code and value); 0 if there is no such code. */
type CodeTable = Uint16Array;

/** What is needed to follow the picture data of a sequential Huffman JPEG with a single scan. */
export interface JpegScan {
  /** Index of the first byte of the data. */
  readonly start: number;
  /** Tables of each block of a unit (called MCU in T.81), in order. */
  readonly blocks: readonly { readonly dc: CodeTable; readonly ac: CodeTable }[];
  readonly units: number;
  readonly unitsPerRestart: number;
}

interface Frame {
  readonly columns: number;
  readonly rows: number;
  readonly components: readonly { readonly id: number; readonly across: number; readonly down: number }[];
}

/** Number of bytes that may be read past the data. */
const LOOK_AHEAD = 4;

const MARKER = 0xff;
const [START_OF_SCAN, END_OF_IMAGE, HUFFMAN_TABLES, RESTART_INTERVAL] = [0xda, 0xd9, 0xc4, 0xdd];
const isBaseline = (marker: number): boolean => marker === 0xc0 || marker === 0xc1;
/** Progressive, lossless, hierarchical or arithmetically coded. */
const isOtherFrame = (marker: number): boolean =>
  marker >= 0xc2 && marker <= 0xcf && marker !== HUFFMAN_TABLES;
/** True for a marker without a segment. */
const standsAlone = (marker: number): boolean => marker <= 1 || (marker >= 0xd0 && marker <= 0xd7);

/** The only scan of a JPEG file (ITU-T T.81). Undefined if it has several scans, as progressive files do, or other codes. */
export function readJpegScan(bytes: Uint8Array): JpegScan | undefined {
  const tables = new Map<number, CodeTable>();
  let frame: Frame | undefined;
  let unitsPerRestart = 0;
  for (let at = 2; ; ) {
    at = bytes.indexOf(MARKER, at);
    if (at < 0) return;
    while (bytes[at] === MARKER) at++;
    const marker = bytes[at++];
    if (standsAlone(marker)) continue;
    const segment = bytes.subarray(at + 2, at + wordOf(bytes, at));
    if (isBaseline(marker)) frame = readFrame(segment);
    else if (marker === HUFFMAN_TABLES) readTables(segment, tables);
    else if (marker === RESTART_INTERVAL) unitsPerRestart = wordOf(segment, 0);
    else if (marker === START_OF_SCAN) {
      return frame && scanOf(frame, segment, tables, at + 2 + segment.length, unitsPerRestart);
    } else if (isOtherFrame(marker) || marker === END_OF_IMAGE) return;
    at += 2 + segment.length;
  }
}

const wordOf = (bytes: Uint8Array, at: number): number => (bytes[at] << 8) | bytes[at + 1];

function readFrame(segment: Uint8Array): Frame {
  const components = Array.from({ length: segment[5] }, (_, i) => {
    const [id, sides] = segment.subarray(6 + 3 * i);
    return { id, across: sides >> 4, down: sides & 15 };
  });
  return { rows: wordOf(segment, 1), columns: wordOf(segment, 3), components };
}

function readTables(segment: Uint8Array, tables: Map<number, CodeTable>): void {
  for (let from = 0; from < segment.length; ) {
    const counts = segment.subarray(from + 1, from + 17);
    const end = from + 17 + counts.reduce((sum, count) => sum + count, 0);
    tables.set(segment[from], codeTable(counts, segment.subarray(from + 17, end)));
    from = end;
  }
}

function scanOf(
  { columns, rows, components }: Frame,
  segment: Uint8Array,
  tables: ReadonlyMap<number, CodeTable>,
  start: number,
  unitsPerRestart: number,
): JpegScan | undefined {
  if (rows === 0 || segment[0] !== components.length) return;
  // A single component is cut into single blocks, whatever its sampling.
  const single = components.length === 1;
  const across = single ? 1 : Math.max(...components.map((component) => component.across));
  const down = single ? 1 : Math.max(...components.map((component) => component.down));
  const blocks: JpegScan["blocks"][number][] = [];
  for (const [i, component] of components.entries()) {
    const [id, names] = segment.subarray(1 + 2 * i);
    const dc = tables.get(names >> 4);
    const ac = tables.get(16 + (names & 15));
    const count = component.across * component.down;
    if (!dc || !ac || id !== component.id || count === 0) return;
    for (let n = single ? 1 : count; n > 0; n--) blocks.push({ dc, ac });
  }
  const units = Math.ceil(columns / (8 * across)) * Math.ceil(rows / (8 * down));
  return { start, blocks, units, unitsPerRestart: unitsPerRestart || units };
}

/** T.81, annex C: codes of one length count up; the next length starts at twice the code. */
function codeTable(counts: Uint8Array, symbols: Uint8Array): CodeTable {
  const table = new Uint16Array(65536);
  for (let bits = 1, from = 0, k = 0; bits <= 16; bits++) {
    for (let n = counts[bits - 1]; n > 0; n--, k++) {
      const [run, size] = [symbols[k] >> 4, symbols[k] & 15];
      const isEnd = size === 0 && run < 15;
      const to = from + (1 << (16 - bits));
      table.fill(((isEnd ? 64 : run + 1) << 5) | (bits + size), from, to);
      from = to;
    }
  }
  return table;
}

/**
 * Whether the data of a scan end at another place than their codes. The data have no checksum, and almost any bits are valid
 * codes. But changed bytes put the codes out of step, and then the last block ends before or after the end of its data. A decoder
 * reports only the second case. Each part between restart markers is checked separately.
 */
export function isOutOfStep(bytes: Uint8Array, { start, blocks, units, unitsPerRestart }: JpegScan): boolean {
  const data = new Uint8Array(bytes.length - start + LOOK_AHEAD);
  let from = start;
  for (let unit = 0; unit < units; unit += unitsPerRestart) {
    // A byte 0xff is followed by a zero byte, or it begins a marker.
    let length = 0;
    for (; from < bytes.length; from++) {
      const byte = bytes[from];
      if (byte === MARKER && bytes[++from] !== 0) break;
      data[length++] = byte;
    }
    while (bytes[from] === MARKER) from++;
    from++;
    data.fill(0, length, length + LOOK_AHEAD);
    const used = Math.ceil(bitsOfUnits(data, length, blocks, Math.min(unitsPerRestart, units - unit)) / 8);
    if (used > length) return true;
    const left = data.subarray(used, length);
    if (left.length > MAX_STRAY_BYTES && left.some((byte) => byte !== left[0])) return true;
  }
  return false;
}

/** Number of bits of `units` units; more than available if a code is invalid. */
function bitsOfUnits(data: Uint8Array, length: number, blocks: JpegScan["blocks"], units: number): number {
  const available = 8 * length;
  let at = 0;
  for (let unit = 0; unit < units && at <= available; unit++) {
    for (const { dc, ac } of blocks) {
      at = endOfBlock(data, at, dc, ac);
      if (at < 0) return available + 8;
    }
  }
  return at;
}

/** The bit after a block; -1 if the block contains an invalid code. */
function endOfBlock(data: Uint8Array, from: number, dc: CodeTable, ac: CodeTable): number {
  let at = from;
  let code = dc[next16(data, at)];
  at += code & 31;
  for (let k = 1; k < 64 && code !== 0; k += code >> 5) {
    code = ac[next16(data, at)];
    at += code & 31;
  }
  return code === 0 ? -1 : at;
}

/** The 16 bits from bit `at`. */
const next16 = (data: Uint8Array, at: number): number => {
  const byte = at >> 3;
  return (((data[byte] << 16) | (data[byte + 1] << 8) | data[byte + 2]) >> (8 - (at & 7))) & 0xffff;
};
