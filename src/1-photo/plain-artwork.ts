import { columnsOf, denseData, rowsOf } from "../core/plane.js";
import type { Photo } from "./photo.js";

/** Number of grey steps of the histogram. */
const GREYS = 256;

/** Approximate number of pixels to examine, evenly spread over the picture. */
const LOOKED_AT = 1 << 17;

/** Greys on either side that still belong to a tone: JPEG spreads a flat tone this far. */
const TONE_GREYS = 12;

/** Smallest difference between ink and paper, in greys of 255. Closer greys may be tones that must stay visible. */
const MIN_CONTRAST = 153;

/** Share of the picture that must be ink or paper. The rest is edges; small lettering has many of them. */
const MIN_IN_TONES = 0.7;

/** Share of the picture that the rarer of the two must fill. */
const MIN_SHARE = 0.0005;

/** Share of the pixels between ink and paper that must lie on hard edges: greys differ by half the contrast within `EDGE_PX`. */
const MIN_ON_EDGES = 0.9;
const EDGE_PX = 3;

/** JPEG ringing beside an edge is this near to a tone, and within the 8 × 8 block of the edge (ITU-T T.81, 1992). */
const RINGING_GREYS = 48;
const RINGING_PX = 7;

/** Share of the more common tone that must have its own tone on all four sides: whole areas, not dots. */
const MIN_WHOLE = 0.6;

/** Share of each tone that must continue on two sides or more, at least into an edge: strokes, not dots. */
const MIN_CONNECTED = 0.85;

/**
 * Whether a picture is certainly a logo or lettering: only ink and paper, in whole areas and strokes with hard edges. One of the
 * two may be transparent. A picture that only resembles artwork (several tones, pale inks, soft edges) does not count.
 */
export function isPlainArtwork(photo: Photo): boolean {
  const seen = seenGreys(photo);
  if (!seen) return false;
  const { places, greyAt } = seen;
  const greys = new Float64Array(GREYS);
  for (const at of places) greys[Math.round(greyAt(at))]++;
  const one = fullest(greys);
  const other = fullest(greys.map((count, grey) => (Math.abs(grey - one) < MIN_CONTRAST ? 0 : count)));
  if (Math.abs(one - other) < MIN_CONTRAST || greys[other] === 0) return false;
  const between = places.filter((at) => !isTone(greyAt(at), one) && !isTone(greyAt(at), other));
  if (between.length > (1 - MIN_IN_TONES) * places.length) return false;

  const common = tally(seen, one, other);
  const rare = tally(seen, other, one);
  return (
    rare.count >= MIN_SHARE * places.length &&
    common.whole >= MIN_WHOLE * common.count &&
    [common, rare].every(({ count, connected }) => connected >= MIN_CONNECTED * count) &&
    between.filter((at) => isOnHardEdge(seen, at, one, other)).length >= MIN_ON_EDGES * between.length
  );
}

/** A picture's greys 0..255. Transparent parts count as paper. */
interface SeenGreys {
  readonly columns: number;
  /** Indices of the examined pixels. */
  readonly places: readonly number[];
  readonly greyAt: (at: number) => number;
}

/** Undefined if nothing is opaque. */
function seenGreys({ luminance, opacity }: Photo): SeenGreys | undefined {
  const columns = columnsOf(luminance);
  const codes = denseData(luminance);
  const opaque = opacity && denseData(opacity);
  const places = spread(columns, rowsOf(luminance));
  const counts = new Float64Array(GREYS);
  for (const at of places) if (!opaque || opaque[at] === 65535) counts[codes[at] >> 8]++;
  const first = fullest(counts);
  if (counts[first] === 0) return undefined;
  // The end of the scale with more contrast to the ink.
  const ground = first < GREYS / 2 ? GREYS - 1 : 0;
  const greyAt = (at: number): number => {
    const grey = codes[at] >> 8;
    return opaque ? ground + ((grey - ground) * opaque[at]) / 65535 : grey;
  };
  return { columns, places, greyAt };
}

const isTone = (grey: number, tone: number): boolean => Math.abs(grey - tone) <= TONE_GREYS;

/** Greys of the pixels `px` away on the four sides. */
const around = ({ columns, greyAt }: SeenGreys, at: number, px: number): number[] =>
  [at - px, at + px, at - px * columns, at + px * columns].map(greyAt);

function isOnHardEdge(seen: SeenGreys, at: number, one: number, other: number): boolean {
  const grey = seen.greyAt(at);
  const rings = Math.min(Math.abs(grey - one), Math.abs(grey - other)) <= RINGING_GREYS;
  const reaches = rings ? [1, 2, EDGE_PX, 5, RINGING_PX] : [1, 2, EDGE_PX];
  const near = reaches.flatMap((px) => around(seen, at, px));
  return Math.max(...near) - Math.min(...near) >= Math.abs(one - other) / 2;
}

/** Counts the pixels of a tone, those with the tone on all four sides, and those that continue on two sides or more. */
function tally(seen: SeenGreys, tone: number, opposite: number) {
  let [count, whole, connected] = [0, 0, 0];
  for (const at of seen.places) {
    if (!isTone(seen.greyAt(at), tone)) continue;
    count++;
    const sides = around(seen, at, 1);
    if (sides.every((side) => isTone(side, tone))) whole++;
    if (sides.filter((side) => !isTone(side, opposite)).length >= 2) connected++;
  }
  return { count, whole, connected };
}

/** Pixels evenly spread over a picture, far enough from its border that all their neighbours lie inside. */
function spread(columns: number, rows: number): number[] {
  const inner = Math.max(0, columns - 2 * RINGING_PX) * Math.max(0, rows - 2 * RINGING_PX);
  const step = Math.max(1, Math.round(Math.sqrt(inner / LOOKED_AT)));
  const places: number[] = [];
  for (let y = RINGING_PX; y < rows - RINGING_PX; y += step) {
    for (let x = RINGING_PX; x < columns - RINGING_PX; x += step) places.push(y * columns + x);
  }
  return places;
}

const fullest = (counts: Float64Array): number => counts.indexOf(Math.max(...counts));
