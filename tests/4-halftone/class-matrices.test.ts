import { describe, expect, it } from "vitest";
import {
  type ClassMatrix,
  knuthClasses,
  meseVaidyanathanClasses,
} from "../../src/4-halftone/class-matrices.js";
import { publishedTable } from "../support/halftone-tables.js";

interface PublishedClasses {
  readonly classes: ClassMatrix;
  readonly barons?: readonly number[];
  readonly near_barons?: readonly number[];
}

const AROUND = [-1, 0, 1];

/** Classes that have just `count` of their eight neighbours later than themselves, the matrix tiling the plane. */
function classesWithLaterNeighbours(classes: ClassMatrix, count: number): number[] {
  const side = classes.length;
  const found: number[] = [];
  classes.forEach((row, y) => {
    row.forEach((own, x) => {
      const around = AROUND.flatMap((dy) =>
        AROUND.map((dx) => classes[(y + dy + side) % side][(x + dx + side) % side]),
      );
      if (around.filter((other) => other > own).length === count) found.push(own);
    });
  });
  return found.sort((a, b) => a - b);
}

describe.each([
  ["Knuth", knuthClasses, "dot-diffusion/knuth-8x8"],
  ["Mese and Vaidyanathan", meseVaidyanathanClasses, "dot-diffusion/mese-vaidyanathan-16x16"],
] as const)("class matrix of %s", (_name, classes, table) => {
  const published = publishedTable<PublishedClasses>(table);

  it("is the published one", () => {
    expect(classes).toEqual(published.classes);
  });

  it("is a permutation", () => {
    const side = classes.length;
    const sorted = classes.flat().sort((a, b) => a - b);
    expect(sorted).toEqual(Array.from({ length: side * side }, (_, i) => i));
  });
});

it("Knuth's matrix has his two barons and two near-barons", () => {
  const published = publishedTable<PublishedClasses>("dot-diffusion/knuth-8x8");
  expect(classesWithLaterNeighbours(knuthClasses, 0)).toEqual(published.barons);
  expect(classesWithLaterNeighbours(knuthClasses, 1)).toEqual(published.near_barons);
});
