import { execFileSync } from "node:child_process";
import { describe, expect, it } from "vitest";
import { bayerTile } from "../../src/4-halftone/bayer.js";
import { clusteredScreen } from "../../src/4-halftone/clustered-dot.js";
import { halftoneSettings } from "../support/halftone-settings.js";
import { pgmOf, samplesOf } from "../support/pnm.js";
import { ranksFromTints } from "../support/tile-ranks.js";
import { hasTool } from "../support/tool.js";

/*
 * ImageMagick's maps o2x2 and o4x4 fill in Bayer's order. Its thresholds are k/(n + 1), ours are (k − ½)/n. So the compared
 * tints have k burned pixels; there both agree. Its o8x8 is not compared: the quarters of that map have another order than the
 * recursion.
 */
describe.skipIf(!hasTool("convert", ["-version"]))("Bayer, against ImageMagick", () => {
  it.each([2, 4] as const)("the tile of side %i fills in the same order", (side) => {
    const size = side * side;
    const tints = Uint16Array.from({ length: size * size }, (_, i) =>
      Math.round((65535 * (Math.floor(i / size) + 1)) / size),
    );
    const arguments_ = ["pgm:-", "-ordered-dither", `o${side}x${side},2`, "-depth", "8", "gray:-"];
    const input = pgmOf(tints, side, side * size);
    const whites = Uint8Array.from(execFileSync("convert", arguments_, { input }), (level) => level / 255);
    const ranks = Array.from({ length: size }, (_, pixel) => {
      let bare = 0;
      for (let tint = 0; tint < size; tint++) bare += 1 - whites[tint * size + pixel];
      return bare;
    });
    expect(ranks).toEqual([...ranksFromTints(bayerTile(side), side, side)]);
  });
});

/*
 * Ghostscript's setscreen with the cosine spot function, at 72 pixels per inch so that a point is a pixel. Pixels of
 * equal value, such as mirror images, may be filled in another order, so the test compares the value of the function at each
 * rank, on average over the dot so far. Only cells with an odd number of pixels: in the others Ghostscript centres the dot on a pixel, our screen on a corner
 * between four.
 */
describe.skipIf(!hasTool("gs", ["--version"]))("clustered dot, against Ghostscript", () => {
  /** Ranks over the square of side a² + b², from strips of every tint. */
  function ranksByGhostscript(a: number, b: number): Uint16Array {
    const area = a * a + b * b;
    const linesPerInch = 72 / Math.sqrt(area);
    const angleDeg = (Math.atan2(b, a) * 180) / Math.PI;
    const strips = Array.from(
      { length: area + 1 },
      (_, k) => `${k / area} setgray 0 ${k * area} ${area} ${area} rectfill`,
    );
    const program = `<< /PageSize [${area} ${area * (area + 1)}] >> setpagedevice
${linesPerInch} ${angleDeg} {180 mul cos exch 180 mul cos add 2 div} setscreen
${strips.join("\n")}
showpage
`;
    const options = [
      "-q",
      "-dBATCH",
      "-dNOPAUSE",
      "-dSAFER",
      "-sDEVICE=pbmraw",
      "-r72",
      "-sOutputFile=-",
      "-",
    ];
    const black = samplesOf(execFileSync("gs", options, { input: program, maxBuffer: 2 ** 26 }));
    const ranks = new Uint16Array(area * area).fill(area);
    black.forEach((bit, i) => {
      ranks[i % ranks.length] -= bit;
    });
    return ranks;
  }

  it.each([
    [2, 1],
    [3, 2],
    [4, 1],
    [5, 0],
    [4, 3],
    [5, 2],
    [6, 1],
    [5, 4],
    [7, 0],
    [7, 2],
  ])("steps of %i, %i: same cell, and a dot that grows alike", (a, b) => {
    const area = a * a + b * b;
    const tile = clusteredScreen(
      halftoneSettings({
        screenLinesPerInch: 25.4 / (0.1 * Math.sqrt(area)),
        screenAngleDeg: (Math.atan2(b, a) * 180) / Math.PI,
      }),
    ).tile();
    const at = (x: number, y: number) => ((y + area) % area) * area + ((x + area) % area);
    const spotAt = (x: number, y: number) => {
      const [u, v] = [((x + 0.5) * a + (y + 0.5) * b) / area, ((y + 0.5) * a - (x + 0.5) * b) / area];
      return Math.cos(2 * Math.PI * u) + Math.cos(2 * Math.PI * v);
    };

    const ranks = ranksByGhostscript(a, b);
    const theirs: number[] = [];
    for (let y = 0; y < area; y++) {
      for (let x = 0; x < area; x++) {
        expect(ranks[at(x + a, y + b)]).toBe(ranks[at(x, y)]);
        theirs[ranks[at(x, y)]] = spotAt(x, y);
      }
    }
    // All our cells take a pixel in turn, so a whole turn is compared with one of their ranks.
    const cells = tile.rankCount / area;
    const ours = new Float64Array(area);
    tile.ranks.forEach((rank, i) => {
      ours[Math.floor(rank / cells)] += spotAt(i % tile.columns, Math.floor(i / tile.columns)) / cells;
    });
    let [sumOfOurs, sumOfTheirs] = [0, 0];
    theirs.forEach((spot, rank) => {
      sumOfOurs += ours[rank];
      sumOfTheirs += spot;
      expect(Math.abs(sumOfOurs - sumOfTheirs) / (rank + 1)).toBeLessThan(0.02);
    });
  });
});
