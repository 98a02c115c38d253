import { arcText } from "./letters.js";

const INK = "#14222e";
const ROPE_TURNS = 64;
const ROPE_INNER = 432;
const ROPE_OUTER = 486;

const polar = (radius: number, degrees: number): string => {
  const a = (degrees * Math.PI) / 180;
  return `${(radius * Math.sin(a)).toFixed(1)} ${(-radius * Math.cos(a)).toFixed(1)}`;
};

/** One bulge of a laid rope: a leaf that slants across the ring. */
const ropeBulge = (degrees: number): string => {
  const step = 360 / ROPE_TURNS;
  const inner = polar(ROPE_INNER, degrees - 0.75 * step);
  const outer = polar(ROPE_OUTER, degrees + 0.75 * step);
  const left = polar(ROPE_OUTER + 4, degrees - 0.28 * step);
  const right = polar(ROPE_INNER - 4, degrees + 0.28 * step);
  return `M${inner}Q${left} ${outer}Q${right} ${inner}Z`;
};

const star = (x: number): string => {
  const points = Array.from({ length: 8 }, (_, i) => {
    const r = i % 2 === 0 ? 24 : 8;
    const a = (i * Math.PI) / 4;
    return `${(x + r * Math.sin(a)).toFixed(1)} ${(-r * Math.cos(a)).toFixed(1)}`;
  });
  return `M${points.join("L")}Z`;
};

/** Stocked anchor, drawn round the origin: ring, stock, shank, arms and two palms. */
const ANCHOR = [
  "M-15-140L-21 168A21 21 0 0 0 21 168L15-140Z",
  "M-118-112A17 17 0 0 1-118-146H118A17 17 0 0 1 118-112Z",
  "M0 232C-96 222-168 158-190 60L-146 92C-124 148-72 184 0 190C72 184 124 148 146 92L190 60C168 158 96 222 0 232Z",
  "M-212 22L-116 74L-150 88L-186 128L-200 96Z",
  "M212 22L116 74L150 88L186 128L200 96Z",
];

/** The invented workshop's mark as SVG: filled and stroked paths on nothing, no fonts. */
export const drawLogo = (): string => {
  const rope = Array.from({ length: ROPE_TURNS }, (_, i) => ropeBulge((360 * i) / ROPE_TURNS)).join("");
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="-500 -500 1000 1000" width="1000" height="1000">
  <title>Harbour Workshop, engraved keepsakes</title>
  <path fill="${INK}" d="${rope}"/>
  <g fill="${INK}">
    ${[...ANCHOR, star(-366), star(366)].map((d) => `<path d="${d}"/>`).join("\n    ")}
  </g>
  <g fill="none" stroke="${INK}" stroke-linecap="round" stroke-linejoin="round">
    <circle r="308" stroke-width="9"/>
    <circle r="292" stroke-width="3"/>
    <circle cy="-186" r="38" stroke-width="22"/>
    <path stroke-width="17" d="M30-168C92-150 78-78 8-56C-66-32-72 26-6 46C62 66 66 118 14 132"/>
  </g>
  <g fill="none" stroke="${INK}" stroke-width="2.3" stroke-linecap="round" stroke-linejoin="round">
    ${arcText({ text: "HARBOUR WORKSHOP", radius: 339, scale: 4.1, side: "top" })}
    ${arcText({ text: "ENGRAVED KEEPSAKES", radius: 397, scale: 4.1, side: "bottom" })}
  </g>
</svg>
`;
};
