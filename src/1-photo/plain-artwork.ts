import { columnsOf, denseData, rowsOf } from "../core/plane.js";
import type { Photo } from "./photo.js";

const LEVELS = 256;

/** Pixels looked at, about: evenly spread over the picture. */
const LOOKED_AT = 1 << 17;

/** Levels to either side that still are a tone: what JPEG leaves of a flat one. */
const TONE_LEVELS = 12;

/** Levels of 255 that ink and paper lie apart. Two greys closer to one another may be tones that somebody wants to see. */
const LEAST_CONTRAST = 153;

/** Share of the picture that must be ink or paper; the rest is edges, of which small lettering has many. */
const LEAST_IN_TONES = 0.7;

/** Share of the picture that the rarer of the two must fill. */
const LEAST_SHARE = 0.0005;

/** Of what lies in between, so much must be on hard edges, where levels differ by half the contrast within so many pixels. */
const LEAST_ON_EDGES = 0.9;
const EDGE_PX = 3;

/** What JPEG leaves beside an edge lies so near a tone, and within the edge's own block of 8 × 8 pixels (ITU-T T.81, 1992). */
const RINGING_LEVELS = 48;
const RINGING_PX = 7;

/** Of the commoner tone, so much must have its own tone on all four sides: whole areas, not dots. */
const LEAST_WHOLE = 0.6;

/** Of either tone, so much must go on to two sides or more, if only into an edge: strokes, not dots. */
const LEAST_CONNECTED = 0.85;

/**
 * Whether a picture is beyond doubt a logo or lettering: ink and paper, one of which may be transparent, in whole areas and
 * strokes with hard edges, and nothing else. What only resembles artwork (several tones, pale inks, soft edges) is not.
 */
export function isPlainArtwork({ luminance, opacity }: Photo): boolean {
  const [columns, rows] = [columnsOf(luminance), rowsOf(luminance)];
  const codes = denseData(luminance);
  const opaque = opacity && denseData(opacity);
  const places = spread(columns, rows);

  const seen = new Float64Array(LEVELS);
  for (const at of places) if (!opaque || opaque[at] === 65535) seen[codes[at] >> 8]++;
  const first = fullest(seen);
  if (seen[first] === 0) return false;
  // What is transparent is taken for the end of the scale that stands out from the ink.
  const ground = first < LEVELS / 2 ? LEVELS - 1 : 0;
  const levelAt = (at: number): number => {
    const level = codes[at] >> 8;
    return opaque ? ground + ((level - ground) * opaque[at]) / 65535 : level;
  };

  const levels = new Float64Array(LEVELS);
  for (const at of places) levels[Math.round(levelAt(at))]++;
  const one = fullest(levels);
  const other = fullest(levels.map((count, level) => (Math.abs(level - one) < LEAST_CONTRAST ? 0 : count)));
  const contrast = Math.abs(one - other);
  if (contrast < LEAST_CONTRAST || levels[other] === 0) return false;
  const isTone = (at: number, tone: number): boolean => Math.abs(levelAt(at) - tone) <= TONE_LEVELS;
  const between = places.filter((at) => !isTone(at, one) && !isTone(at, other));
  if (between.length > (1 - LEAST_IN_TONES) * places.length) return false;

  const around = (at: number, px: number): number[] => [
    at - px,
    at + px,
    at - px * columns,
    at + px * columns,
  ];
  const onHardEdge = (at: number): boolean => {
    const level = levelAt(at);
    const rings = Math.min(Math.abs(level - one), Math.abs(level - other)) <= RINGING_LEVELS;
    const reaches = rings ? [1, 2, EDGE_PX, 5, RINGING_PX] : [1, 2, EDGE_PX];
    const near = reaches.flatMap((px) => around(at, px)).map(levelAt);
    return Math.max(...near) - Math.min(...near) >= contrast / 2;
  };
  const tally = (tone: number, opposite: number) => {
    let [count, whole, connected] = [0, 0, 0];
    for (const at of places) {
      if (!isTone(at, tone)) continue;
      count++;
      const sides = around(at, 1);
      if (sides.every((side) => isTone(side, tone))) whole++;
      if (sides.filter((side) => !isTone(side, opposite)).length >= 2) connected++;
    }
    return { count, whole, connected };
  };
  const common = tally(one, other);
  const rare = tally(other, one);

  return (
    rare.count >= LEAST_SHARE * places.length &&
    common.whole >= LEAST_WHOLE * common.count &&
    [common, rare].every(({ count, connected }) => connected >= LEAST_CONNECTED * count) &&
    between.filter(onHardEdge).length >= LEAST_ON_EDGES * between.length
  );
}

/** Places evenly spread over a picture, far enough from its border that all their neighbours lie within. */
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
