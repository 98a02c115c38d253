import { expect, it } from "vitest";
import type { ReportAround, ReportPlaced } from "../../../src/6-report/report.js";
import { placeWords, rotaryWords } from "../../../src/6-report/words/placing-words.js";
import { METRIC } from "../../../src/core/shown-units.js";

const placed: ReportPlaced = {
  ...{ pictureWidthMm: 50, pictureHeightMm: 30, angleDeg: 0 },
  ...{ startAngleDeg: 320.76, startAlongMm: 204.33, turnDeg: 78.49 },
};
const around = (angleDeg: number): ReportAround => ({
  ...{ topDiameterMm: 73, bottomDiameterMm: 73, circumferenceMm: 229.3 },
  placed: { ...placed, angleDeg },
});

it("a picture without an angle lies on the mark, so a handle is no mark for it", () => {
  expect(placeWords(placed, METRIC)).toMatch(/^The middle of the picture lies on your mark/);
  expect(rotaryWords(around(0), METRIC)).toMatch(
    /draw a line there\. If .* a handle or a seam, .* 180deg .* other side\. Angles/,
  );
});

it("beside a picture at an angle the mark may be a handle", () => {
  expect(rotaryWords(around(180), METRIC)).toMatch(
    /^Your mark is a seam, a handle or a line that you draw\. Angles/,
  );
});
