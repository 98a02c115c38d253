/** One letter as the path of a pen, in a box 14 units high, baseline y = 0, y down. */
interface Letter {
  readonly width: number;
  readonly path: string;
}

/** Only the letters that the logo needs. */
const LETTERS: Record<string, Letter> = {
  A: { width: 11, path: "M0 0L5.5-14L11 0M2-5H9" },
  B: { width: 8, path: "M0 0V-14H4.4A3.3 3.3 0 0 1 4.4-7.4H0M4.4-7.4A3.7 3.7 0 0 1 4.4 0H0" },
  D: { width: 9.5, path: "M0 0V-14H2.8A6.7 7 0 0 1 2.8 0Z" },
  E: { width: 7.5, path: "M7.5 0H0V-14H7.5M0-7.3H6.4" },
  G: { width: 10.5, path: "M9.8-11.2A5.6 7 0 1 0 10.3-6.2H6.4" },
  H: { width: 9, path: "M0 0V-14M9 0V-14M0-7.2H9" },
  K: { width: 8.5, path: "M0 0V-14M8.2-14L0-5.6M3-8.6L8.5 0" },
  N: { width: 9.5, path: "M0 0V-14L9.5 0V-14" },
  O: { width: 11.6, path: "M5.8-14A5.8 7 0 0 1 5.8 0A5.8 7 0 0 1 5.8-14Z" },
  P: { width: 8, path: "M0 0V-14H4.2A3.8 3.8 0 0 1 4.2-6.4H0" },
  R: { width: 8.5, path: "M0 0V-14H4.4A3.7 3.7 0 0 1 4.4-6.6H0M4.2-6.6L8.5 0" },
  S: { width: 8, path: "M7.6-11.6A3.9 3.5 0 1 0 4-7.2A3.9 3.65 0 1 1 .2-2.6" },
  U: { width: 9, path: "M0-14V-4.6A4.5 4.6 0 0 0 9-4.6V-14" },
  V: { width: 10.5, path: "M0-14L5.25 0L10.5-14" },
  W: { width: 15, path: "M0-14L3.8 0L7.5-12L11.2 0L15-14" },
};

const GAP = 4.6;
const SPACE = 6;

export interface ArcText {
  readonly text: string;
  /** Radius of the baseline round the origin. */
  readonly radius: number;
  readonly scale: number;
  /** Over the top, or under the bottom and still upright. */
  readonly side: "top" | "bottom";
}

/** SVG paths of a line of letters bent round the origin, centred on the upright axis. */
export const arcText = ({ text, radius, scale, side }: ArcText): string => {
  const letters = [...text].map((c) => {
    const letter = c === " " ? { width: SPACE, path: "" } : LETTERS[c];
    if (!letter) throw new RangeError(`no pen path for "${c}"`);
    return letter;
  });
  const total = letters.reduce((sum, l) => sum + l.width, GAP * (letters.length - 1));
  const turn = side === "top" ? 1 : -1;
  let pen = -total / 2;
  const paths: string[] = [];
  for (const { width, path } of letters) {
    const degrees = (turn * (pen + width / 2) * scale * 180) / (Math.PI * radius);
    const place = `rotate(${degrees.toFixed(2)}) translate(0 ${-turn * radius}) scale(${scale}) translate(${-width / 2} 0)`;
    if (path) paths.push(`<path transform="${place}" d="${path}"/>`);
    pen += width + GAP;
  }
  return paths.join("\n    ");
};
