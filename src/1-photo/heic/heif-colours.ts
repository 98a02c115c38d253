/** The colours of a picture by their code points (ISO/IEC 23091-2). */
export interface CodedColours {
  readonly primaries: number;
  readonly transfer: number;
}

interface Box {
  readonly type: string;
  /** Of its content. */
  readonly start: number;
  readonly end: number;
}

/**
 * The code points that a HEIF file gives for the colours of its primary picture (ISO/IEC 14496-12, 8.11 and 12.1.5). Undefined if it
 * gives none, or is damaged: the decoder says so.
 */
export function codedColours(bytes: Uint8Array): CodedColours | undefined {
  try {
    return coloursIn(new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength));
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}

function coloursIn(view: DataView): CodedColours | undefined {
  const meta = boxIn(view, { start: 0, end: view.byteLength }, "meta");
  const inMeta = meta && { start: meta.start + 4, end: meta.end };
  const primary = boxIn(view, inMeta, "pitm");
  const properties = boxIn(view, inMeta, "iprp");
  const container = boxIn(view, properties, "ipco");
  const links = boxIn(view, properties, "ipma");
  if (!primary || !container || !links) return undefined;
  const isLong = view.getUint8(primary.start) > 0;
  const item = isLong ? view.getUint32(primary.start + 4) : view.getUint16(primary.start + 4);
  const own = propertiesOf(item, view, links.start);
  const all = [...boxesIn(view, container)];
  for (const { type, start } of own.flatMap((place) => all[place - 1] ?? [])) {
    if (type !== "colr" || textAt(view, start) !== "nclx") continue;
    return { primaries: view.getUint16(start + 4), transfer: view.getUint16(start + 6) };
  }
  return undefined;
}

/** The properties of an item: their places in the list of all, counted from 1. */
function propertiesOf(item: number, view: DataView, start: number): number[] {
  const hasLongIds = view.getUint8(start) > 0;
  const hasLongPlaces = (view.getUint8(start + 3) & 1) === 1;
  const items = view.getUint32(start + 4);
  let at = start + 8;
  for (let i = 0; i < items; i++) {
    const id = hasLongIds ? view.getUint32(at) : view.getUint16(at);
    at += hasLongIds ? 4 : 2;
    const count = view.getUint8(at++);
    const size = hasLongPlaces ? 2 : 1;
    if (id === item) {
      return Array.from({ length: count }, (_, k) =>
        hasLongPlaces ? view.getUint16(at + 2 * k) & 0x7fff : view.getUint8(at + k) & 0x7f,
      );
    }
    at += count * size;
  }
  return [];
}

const boxIn = (view: DataView, within: Omit<Box, "type"> | undefined, type: string): Box | undefined =>
  within && [...boxesIn(view, within)].find((box) => box.type === type);

function* boxesIn(view: DataView, { start, end }: Omit<Box, "type">): Generator<Box> {
  for (let at = start; at + 8 <= end; ) {
    const short = view.getUint32(at);
    const head = short === 1 ? 16 : 8;
    const size = short === 1 ? Number(view.getBigUint64(at + 8)) : short === 0 ? end - at : short;
    if (size < head) return;
    yield { type: textAt(view, at + 4), start: at + head, end: Math.min(end, at + size) };
    at += size;
  }
}

const textAt = (view: DataView, at: number): string =>
  String.fromCharCode(...[0, 1, 2, 3].map((k) => view.getUint8(at + k)));
