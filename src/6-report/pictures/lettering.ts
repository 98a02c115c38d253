/**
 * Plain single-stroke lettering for captions. A picture needs no font and is the same on every computer. Units: the baseline is
 * y = 0, small letters are 5 high, ascenders 7.5, descenders −2.3; y grows upwards.
 */

/** A line drawn without lifting the pen: x, y, x, y, … */
type Stroke = readonly number[];

export interface Glyph {
  /** Width of its ink. */
  readonly width: number;
  readonly strokes: readonly Stroke[];
}

const STEP_DEG = 15;

type Pair = readonly [x: number, y: number];

/** Part of an ellipse with this centre and these half axes. Angles are counter-clockwise from the right. */
function arc([x, y]: Pair, [rx, ry]: Pair, fromDeg: number, toDeg: number): number[] {
  const steps = Math.max(1, Math.ceil(Math.abs(toDeg - fromDeg) / STEP_DEG));
  return Array.from({ length: steps + 1 }, (_, i) => {
    const angle = ((fromDeg + ((toDeg - fromDeg) * i) / steps) * Math.PI) / 180;
    return [x + rx * Math.cos(angle), y + ry * Math.sin(angle)];
  }).flat();
}

const glyph = (width: number, ...strokes: Stroke[]): Glyph => ({ width, strokes });
const bowl = arc([2.2, 2.5], [2.2, 2.5], 0, 360);
const arch = (left: number, half: number): number[] => [
  ...arc([left + half, 5 - half], [half, half], 180, 0),
  left + 2 * half,
  0,
];

const glyphs: Readonly<Record<string, Glyph>> = {
  a: glyph(4.4, bowl, [4.4, 5, 4.4, 0]),
  b: glyph(4.4, [0, 7.5, 0, 0], bowl),
  c: glyph(4, arc([2.2, 2.5], [2.2, 2.5], 45, 315)),
  d: glyph(4.4, bowl, [4.4, 7.5, 4.4, 0]),
  e: glyph(4.4, [0, 2.6, ...arc([2.2, 2.5], [2.2, 2.5], 2, 318)]),
  f: glyph(2.6, [1, 0, ...arc([2.4, 6.1], [1.4, 1.4], 180, 80)], [0, 5, 2.5, 5]),
  g: glyph(4.4, bowl, [4.4, 5, ...arc([2.2, -0.1], [2.2, 2.2], 0, -150)]),
  h: glyph(4, [0, 7.5, 0, 0], arch(0, 2)),
  i: glyph(0, [0, 5, 0, 0], [0, 7.1, 0, 7.3]),
  j: glyph(1, [1, 5, ...arc([-0.2, -1.1], [1.2, 1.2], 0, -80)], [1, 7.1, 1, 7.3]),
  k: glyph(3.8, [0, 7.5, 0, 0], [3.6, 5, 0.1, 2.1], [1.3, 3.1, 3.8, 0]),
  l: glyph(0, [0, 7.5, 0, 0]),
  m: glyph(6.8, [0, 5, 0, 0], arch(0, 1.7), arch(3.4, 1.7)),
  n: glyph(4, [0, 5, 0, 0], arch(0, 2)),
  o: glyph(4.4, bowl),
  p: glyph(4.4, [0, 5, 0, -2.3], bowl),
  q: glyph(4.4, bowl, [4.4, 5, 4.4, -2.3]),
  r: glyph(2.6, [0, 5, 0, 0], arc([1.9, 3.1], [1.9, 1.9], 180, 65)),
  s: glyph(3.4, [
    ...arc([1.7, 3.75], [1.55, 1.25], 35, 250),
    ...arc([1.7, 1.3], [1.7, 1.3], 75, -90),
    ...arc([1.7, 1.3], [1.7, 1.3], -90, -150),
  ]),
  t: glyph(2.7, [1, 6.7, ...arc([2.3, 1.3], [1.3, 1.3], 180, 280)], [0, 5, 2.6, 5]),
  u: glyph(4, [0, 5, ...arc([2, 2], [2, 2], 180, 360)], [4, 5, 4, 0]),
  v: glyph(4.2, [0, 5, 2.1, 0, 4.2, 5]),
  w: glyph(6.4, [0, 5, 1.6, 0, 3.2, 5, 4.8, 0, 6.4, 5]),
  x: glyph(4, [0, 5, 4, 0], [0, 0, 4, 5]),
  y: glyph(4.2, [0, 5, 2.1, 0], [4.2, 5, 1.2, -2.3]),
  z: glyph(3.8, [0, 5, 3.8, 5, 0, 0, 3.8, 0]),
  "0": glyph(4.4, arc([2.2, 3.6], [2.2, 3.6], 0, 360)),
  "1": glyph(1.9, [0, 5.8, 1.9, 7.2, 1.9, 0]),
  "2": glyph(4.2, [...arc([2.1, 5.1], [2, 2.1], 170, -35), 0, 0, 4.2, 0]),
  "3": glyph(4, arc([1.8, 5.5], [1.8, 1.7], 150, -90), arc([1.8, 1.9], [2.1, 1.9], 90, -150)),
  "4": glyph(4.6, [3.4, 0, 3.4, 7.2, 0, 2, 4.6, 2]),
  "5": glyph(4.1, [3.7, 7.2, 0.6, 7.2, 0.3, 3.9, ...arc([1.9, 2.35], [2.2, 2.35], 125, -145)]),
  "6": glyph(4.4, arc([2.2, 2.3], [2.2, 2.3], 0, 360), [3.3, 7.2, 0.2, 3.2]),
  "7": glyph(4.2, [0, 7.2, 4.2, 7.2, 1.5, 0]),
  "8": glyph(4.2, arc([2.1, 5.5], [1.8, 1.7], 0, 360), arc([2.1, 1.9], [2.1, 1.9], 0, 360)),
  "9": glyph(4.4, arc([2.2, 4.9], [2.2, 2.3], 0, 360), [1.1, 0, 4.2, 4]),
  ".": glyph(0, [0, 0, 0, 0.2]),
  ",": glyph(0.5, [0.5, 0.2, 0, -1.4]),
  ";": glyph(0.5, [0.5, 0.2, 0, -1.4], [0.5, 4.4, 0.5, 4.6]),
  ":": glyph(0, [0, 0, 0, 0.2], [0, 4.4, 0, 4.6]),
  "-": glyph(2.2, [0, 2.6, 2.2, 2.6]),
  "−": glyph(3.6, [0, 3.2, 3.6, 3.2]),
  "+": glyph(3.6, [0, 3.2, 3.6, 3.2], [1.8, 1.4, 1.8, 5]),
  "×": glyph(3, [0, 1.6, 3, 4.6], [0, 4.6, 3, 1.6]),
  "*": glyph(2.8, [1.4, 4, 1.4, 7.4], [0, 4.9, 2.8, 6.5], [0, 6.5, 2.8, 4.9]),
  "/": glyph(2.8, [0, -1, 2.8, 8]),
  "%": glyph(5.6, arc([1.2, 5.8], [1.2, 1.4], 0, 360), arc([4.4, 1.4], [1.2, 1.4], 0, 360), [4.6, 7.2, 1, 0]),
  "(": glyph(1.4, arc([3.6, 3], [3.6, 5], 120, 240)),
  ")": glyph(1.4, arc([-2.2, 3], [3.6, 5], 60, -60)),
  _: glyph(4, [0, -1.2, 4, -1.2]),
  "=": glyph(3.6, [0, 4, 3.6, 4], [0, 2, 3.6, 2]),
  µ: glyph(4, [0, 5, 0, -2.3], [0, 5, ...arc([2, 2], [2, 2], 180, 360)], [4, 5, 4, 0]),
  T: glyph(4.4, [0, 7.2, 4.4, 7.2], [2.2, 7.2, 2.2, 0]),
  L: glyph(3.6, [0, 7.2, 0, 0, 3.6, 0]),
};

const SPACE = 3;
/** Between the ink of two letters. */
const GAP = 2;

/** A capital without a glyph becomes a small letter, and a letter loses an accent that has no glyph. */
const glyphFor = (sign: string): Glyph | undefined =>
  glyphs[sign] ?? glyphs[sign.normalize("NFD")[0].toLowerCase()];

/** The strokes of one line of text from x = 0, and its width. Characters without a glyph are omitted. */
export function lettering(text: string): Glyph {
  const strokes: Stroke[] = [];
  let x = 0;
  for (const sign of text) {
    const drawn = glyphFor(sign);
    if (drawn)
      strokes.push(...drawn.strokes.map((stroke) => stroke.map((v, i) => (i % 2 === 0 ? v + x : v))));
    if (drawn || sign === " ") x += (drawn ? drawn.width : SPACE - GAP) + GAP;
  }
  return { width: Math.max(0, x - GAP), strokes };
}
