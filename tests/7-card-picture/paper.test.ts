import { expect, it } from "vitest";
import { type PaperFound, paperBeside } from "../../src/7-card-picture/paper.js";

const PX_PER_MM = 8;
const [widthMm, heightMm, aroundMm] = [40, 30, 20];
const [BARE, TABLE, PAPER] = [0.55, 0.3, 0.85];

/** Light that falls off to one side, and away from the middle. */
const shine = (xMm: number, yMm: number): number =>
  Math.exp(0.006 * (xMm - 20) - 0.0001 * ((xMm - 20) ** 2 + (yMm - 15) ** 2));

/** A card on a table of some brightness, with things beside it: left, top, right, below in mm from its corner, and luminance factor. */
function found(things: readonly (readonly number[])[], exposure = 0.9, noise = 0.01): PaperFound {
  const [columns, rows] = [widthMm, heightMm].map((mm) => (mm + 2 * aroundMm) * PX_PER_MM);
  const light = Float32Array.from({ length: columns * rows }, (_, i) => {
    const x = (i % columns) / PX_PER_MM - aroundMm;
    const y = Math.floor(i / columns) / PX_PER_MM - aroundMm;
    const isCard = x > -1 && x < widthMm + 1 && y > -1 && y < heightMm + 1;
    const thing = things.find(([left, top, right, below]) => x > left && x < right && y > top && y < below);
    const factor = isCard ? BARE : (thing?.[4] ?? TABLE);
    return Math.min(1, exposure * factor * shine(x, y) * (1 + noise * Math.sin(12.9898 * i)));
  });
  const corner = aroundMm * PX_PER_MM;
  return paperBeside({
    picture: { columns, rows, light },
    view: {
      homography: [PX_PER_MM, 0, corner, 0, PX_PER_MM, corner, 0, 0, 1],
      ...{ radial: 0, middle: [0, 0], halfDiagonalPx: 1 },
    },
    ...{ widthMm, heightMm },
    bareLight: (x, y) => exposure * BARE * shine((x / 2 + 0.5) * widthMm, (y / 2 + 0.5) * heightMm),
  });
}

const right = [42, -10, 60, 40, PAPER];

it.each([
  ["to the right", [right]],
  ["below", [[-20, 33, 60, 50, PAPER]]],
  ["on all sides", [[-20, -20, 60, 50, PAPER]]],
])("paper %s of a card tells how bright its bare surface is", (_, things) => {
  const paper = found(things);
  expect(paper.is === "found" && Math.abs(paper.lnOverBare - Math.log(PAPER / BARE))).toBeLessThan(0.02);
});

it("paper is missing if there is none, or too little, or if it is overexposed", () => {
  expect(found([]).is).toBe("missing");
  expect(found([[43, 5, 51, 11, PAPER]]).is).toBe("missing");
  expect(found([right], 1.4).is).toBe("missing");
  // A coarse cloth, as bright in the mean.
  expect(found([right], 0.9, 0.15).is).toBe("missing");
});

it("is not told from another bright thing", () => {
  expect(found([right, [-20, -10, -3, 40, 0.68]]).is).toBe("not-alone");
});
