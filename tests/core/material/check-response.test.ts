import { describe, expect, it } from "vitest";
import { type MaterialData, resolveMaterial } from "../../../src/core/material/material.js";
import { luminanceFactorAt } from "../../../src/core/material/response.js";
import { board } from "../../support/materials.js";
import { refusalOf } from "../../support/refusal.js";

const charring: MaterialData = { ...board, charDose: 1.25 };
const inPercent: MaterialData["response"] = [
  [0, 0.6],
  [50, 0.3],
  [100, 0.1],
];

const resolved = (changes: object) => resolveMaterial({ ...charring, ...changes });
const refusal = (changes: object) => refusalOf(() => resolved(changes));

/** CIE 15, inverted: the luminance factor of an L* above 8. */
const luminance = (lightness: number): number => ((lightness + 16) / 116) ** 3;

describe("doses in percent", () => {
  it("are refused without a unit, with the three ways out", () => {
    const error = refusal({ response: inPercent, charDose: 125 });
    expect(error.code).toBe("INPUT_MATERIAL_INVALID");
    expect(error.message).toMatch(/reach 100,.*percent/);
    expect(error.message).toContain('"doseUnit": "percent"');
    expect(error.message).toContain('"doseUnit": "solid"');
    expect(error.message).toMatch(/machine power, divide/);
  });

  it("are refused for a char dose alone", () => {
    expect(refusal({ charDose: 120 }).message).toMatch(/reach 120,.*percent/);
  });

  it("give the same material as shares, if the file says so", () => {
    const { curve, response, charDose, toneRange, ...rest } = resolved({
      response: inPercent,
      charDose: 125,
      doseUnit: "percent",
    });
    expect(response).toEqual(board.response);
    expect(charDose).toBe(charring.charDose);
    expect(luminanceFactorAt(curve, 0.5)).toBeCloseTo(0.3, 6);
    expect(toneRange).toBe(resolved({}).toneRange);
    expect("doseUnit" in rest).toBe(false);
  });

  it("may be small: the unit counts, not the size", () => {
    const faint: MaterialData["response"] = [
      [0, 0.6],
      [5, 0.3],
      [8, 0.1],
    ];
    expect(resolved({ response: faint, charDose: 9, doseUnit: "percent" }).response[1]).toEqual([0.05, 0.3]);
    expect(resolved({ response: faint, charDose: 9, doseUnit: "solid" }).response).toEqual(faint);
  });

  it.each([
    ["10 solid fills are allowed", 10, undefined],
    ["more only with the unit", 12, "solid"],
  ])("%s", (_, last, doseUnit) => {
    const long: MaterialData["response"] = [...board.response, [last, 0.05]];
    expect(resolved({ response: long, doseUnit }).response).toEqual(long);
  });

  it("have no other unit", () => {
    expect(refusal({ doseUnit: "joule" }).message).toMatch(/doseUnit must be.*"solid".*"percent"/);
  });
});

describe("a response that makes every tone bare or every tone solid", () => {
  const [bare, solid] = [luminance(50), luminance(20)];

  it.each([
    [
      "no range",
      {
        response: [
          [0, bare],
          [1, luminance(50.9)],
        ],
      },
      /changes by 0\.9 L\*/,
    ],
    [
      "no mark by a solid fill",
      {
        response: [
          [0, bare],
          [1, luminance(49.1)],
          [5, solid],
        ],
      },
      /solid fill, dose 1, leaves no mark/,
    ],
    [
      "a change that begins beyond dose 1",
      {
        response: [
          [0, bare],
          [3, bare],
          [5, solid],
        ],
      },
      /half of the change comes only at dose 4/,
    ],
    [
      "a change that is complete at once",
      {
        response: [
          [0, bare],
          [0.009, solid],
          [1, solid],
        ],
      },
      /complete at dose 0\.00/,
    ],
    [
      "the same in percent",
      {
        response: [
          [0, bare],
          [0.9, solid],
          [100, solid],
        ],
        doseUnit: "percent",
      },
      /complete at dose 0\.[78].* dose 100, because the file counts in percent: .* multiply them by 100\.$/,
    ],
    [
      "no mark by a solid fill, in percent",
      {
        response: [
          [0, bare],
          [300, bare],
          [500, solid],
        ],
        doseUnit: "percent",
      },
      /solid fill, dose 100, leaves no mark.* at dose 4\d0\. .* must have dose 100/,
    ],
    [
      "no bare surface",
      {
        response: [
          [1, bare],
          [5, solid],
        ],
      },
      /it starts at dose 1, and the bare surface is missing/,
    ],
    [
      "no bare surface, in percent",
      {
        response: [
          [120, bare],
          [200, solid],
        ],
        doseUnit: "percent",
      },
      /it starts at dose 120, and/,
    ],
  ])("is refused: %s", (_, changes, words) => {
    const error = refusal(changes);
    expect(error.code).toBe("INPUT_MATERIAL_INVALID");
    expect(error.message).toMatch(words);
  });

  it.each([
    [
      "little range",
      [
        [0, bare],
        [1, luminance(51.1)],
      ],
    ],
    [
      "a faint solid fill",
      [
        [0, bare],
        [1, luminance(48.9)],
        [5, solid],
      ],
    ],
    [
      "an early change",
      [
        [0, bare],
        [0.02, solid],
        [1, solid],
      ],
    ],
    [
      "an early change of half, and the rest later",
      [
        [0, bare],
        [0.005, luminance(35)],
        [1, solid],
      ],
    ],
  ])("is taken: %s", (_, response) => {
    expect(resolved({ response }).response).toEqual(response);
  });
});
