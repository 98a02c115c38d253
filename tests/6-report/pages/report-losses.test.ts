import { expect, it } from "vitest";
import { lossesHtml } from "../../../src/6-report/pages/report-losses.js";
import { fidelityWith, piece } from "../words/flawless-piece.js";

const map = { file: Uint8Array.of(1, 2, 3), leftMm: 10, topMm: 5, widthMm: 60, heightMm: 50 };
const lost = { levels: 0.12, bare: 0, solid: 0.2, faint: 0.001, colours: 0 };
const reportWith = (changes: Parameters<typeof fidelityWith>[0]) => ({
  ...{ ...piece, warnings: [] },
  fidelity: fidelityWith(changes),
});

it("the map of losses lies on the picture, with its causes in words, the largest first", () => {
  const html = lossesHtml(reportWith({ lostShare: 0.321, lost }), map);
  expect(html).toContain('<image x="10" y="5" width="60" height="50"');
  expect(html).toContain("On 32 % of the picture");
  const causes = [...html.matchAll(/<li>.*?<\/i>(.*?)<\/li>/g)].map(([, words]) => words);
  expect(causes).toEqual([
    "20 % merged into solid fill",
    "12 % clipped or flattened by levels, brightness, contrast or gamma",
  ]);
});

it("without a loss that is worth a word there is none", () => {
  const none = { levels: 0, bare: 0, solid: 0, faint: 0.004, colours: 0 };
  expect(lossesHtml(reportWith({ lostShare: 0.004, lost: none }), map)).toBe("");
  expect(lossesHtml({ ...piece, warnings: [] }, undefined)).toBe("");
});

it("without a map the words stand alone", () => {
  const colours = { ...lost, levels: 0, solid: 0, colours: 0.2 };
  const html = lossesHtml(reportWith({ lostShare: 0.2, lost: colours }), undefined);
  expect(html).not.toContain("<svg");
  expect(html).toContain("20 % of different colours that become one tone");
});
