import type { Spread } from "../../core/spread.js";
import type { Candidate, CandidateTint, Comparison } from "../comparison.js";

/** A column of the table, and of the CSV file. */
export interface Column {
  readonly key: string;
  readonly head: readonly [string, string];
  /** May be empty. */
  readonly value: (candidate: Candidate) => string | number;
  readonly digits?: number;
  /** Only of choices, not of results: the text after the value in a sentence. */
  readonly choice?: string;
  /** True if a terminal's table omits it, because it has no room for all columns. */
  readonly more?: true;
}

/** Empty if there are fewer tints: a plain threshold makes two tones that are far apart, and none between. */
const heldAt =
  (detailMm: number) =>
  ({ tonalResolution, differentTints = Number.POSITIVE_INFINITY }: Candidate) => {
    const held = tonalResolution.find((tones) => tones.detailMm === detailMm)?.held ?? Number.NaN;
    return held <= differentTints ? held : "";
  };

/** Choices in which candidates may differ. */
const choices: readonly Column[] = [
  { key: "method", head: ["", "method"], value: ({ method }) => method, choice: "" },
  { key: "material", head: ["", "material"], value: ({ material }) => material, choice: "" },
  {
    key: "linesPerInch",
    head: ["lines", "per inch"],
    value: (one) => one.linesPerInch,
    digits: 0,
    choice: " lines per inch",
  },
  {
    key: "spotAlongMm",
    head: ["spot", "along mm"],
    value: (one) => one.spotAlongMm,
    digits: 3,
    choice: " mm spot along",
  },
  {
    key: "spotAcrossMm",
    head: ["spot", "across mm"],
    value: (one) => one.spotAcrossMm,
    digits: 3,
    choice: " mm across",
  },
  { key: "toneMap", head: ["tone", "map"], value: ({ toneMap }) => toneMap, choice: " mapping" },
  {
    key: "levels",
    head: ["power", "levels"],
    value: ({ levels }) => levels,
    digits: 0,
    choice: " power levels",
  },
];

const tintColumns = (which: "mid" | "light"): readonly Column[] => {
  const textured =
    (of: (texture: NonNullable<CandidateTint["texture"]>) => number) =>
    ({ tints }: Candidate) => {
      const { texture } = tints[which];
      return texture ? of(texture) : "";
    };
  return [
    {
      key: `graininess.${which}`,
      head: ["grain", `${which} L*`],
      value: ({ tints }) => tints[which].graininess,
      digits: 2,
      ...(which === "light" && { more: true }),
    },
    {
      key: `peakOverPrincipal.${which}`,
      head: ["peak over", `principal ${which}`],
      value: textured(({ peakFrequency, principalFrequency }) => peakFrequency / principalFrequency),
      digits: 2,
      more: true,
    },
    {
      key: `lowFrequencyPower.${which}`,
      head: ["low power", which],
      value: textured(({ lowFrequencyPower }) => lowFrequencyPower),
      digits: 2,
      more: true,
    },
    {
      key: `anisotropyDb.${which}`,
      head: ["anisotropy", `${which} dB`],
      value: textured(({ anisotropyDb }) => anisotropyDb),
      digits: 1,
      more: true,
    },
  ];
};

/** Errors with dose and spot one standard deviation off; empty if that part does not vary. */
const deviatingColumns = ({ common, spot }: Spread): readonly Column[] => {
  const column = (
    key: keyof Candidate & `visualError${string}`,
    what: string,
    sign: string,
    part: number,
  ): Column => ({
    key,
    head: [what, `${sign}${Number((100 * part).toPrecision(2))}%, L*`],
    value: (one) => (part > 0 ? one[key] : ""),
    digits: 2,
    more: true,
  });
  return [
    column("visualErrorUnderdosed", "dose", "−", common),
    column("visualErrorOverdosed", "dose", "+", common),
    column("visualErrorSmallerSpot", "spot", "−", spot),
    column("visualErrorLargerSpot", "spot", "+", spot),
  ];
};

/** Figures of a candidate in table and CSV file. */
export const comparisonColumns = (spread: Spread): readonly Column[] => [
  ...choices,
  { key: "visualErrorRms", head: ["error", "L*"], value: (one) => one.visualErrorRms, digits: 2 },
  {
    key: "expectedVisualError",
    head: ["expected", "L*"],
    value: (one) => one.expectedVisualError,
    digits: 2,
  },
  { key: "unevenness", head: ["uneven", "L*"], value: (one) => one.unevenness, digits: 2 },
  { key: "toneShift", head: ["tone", "shift L*"], value: (one) => one.toneShift, digits: 2 },
  ...deviatingColumns(spread),
  {
    key: "visualErrorBias",
    head: ["bias", "L*"],
    value: (one) => one.visualErrorBias,
    digits: 2,
    more: true,
  },
  ...tintColumns("mid"),
  ...tintColumns("light"),
  { key: "heldAt0.25mm", head: ["held in", "0.25 mm"], value: heldAt(0.25), digits: 1 },
  { key: "heldAt1mm", head: ["held in", "1 mm"], value: heldAt(1), digits: 1 },
  { key: "burnFraction", head: ["burned", "share"], value: (one) => one.burnFraction, digits: 3, more: true },
  {
    key: "transitionsPerLine",
    head: ["switched", "per line"],
    value: ({ switching }) => switching.transitionsPerLine,
    digits: 0,
  },
  {
    key: "shortestBurstMm",
    head: ["shortest", "burst mm"],
    value: ({ switching }) => switching.shortestBurstMm,
    digits: 3,
    more: true,
  },
  {
    key: "shortestBurstUs",
    head: ["shortest", "burst µs"],
    value: ({ switching }) => switching.shortestBurstUs,
    digits: 0,
    more: true,
  },
  {
    key: "shortestBurstInLags",
    head: ["shortest", "burst/lag"],
    value: ({ switching }) => switching.shortestBurstInLags ?? "",
    digits: 1,
  },
  {
    key: "shortestBurstInLosses",
    head: ["shortest", "burst/loss"],
    value: ({ switching }) => switching.shortestBurstInLosses ?? "",
    digits: 1,
  },
  {
    key: "meanBurstMm",
    head: ["mean", "burst mm"],
    value: ({ switching }) => switching.meanBurstMm,
    digits: 3,
    more: true,
  },
  { key: "beamOnShare", head: ["beam on", "share"], value: (one) => one.beamOnShare, digits: 2, more: true },
  { key: "seconds", head: ["run time", "s"], value: (one) => one.seconds, digits: 0 },
];

/** The choices in which candidates differ, or those in which all are the same. */
export function choicesOf(candidates: readonly Candidate[], differing: boolean): readonly Column[] {
  return choices.filter(({ value }) => new Set(candidates.map(value)).size > 1 === differing);
}

/** A candidate in words, by some choices: `floyd-steinberg, 254 lines per inch`. */
export function candidateName(candidate: Candidate, by: readonly Column[]): string {
  return by
    .map(({ value, digits, choice = "" }) => {
      const said = value(candidate);
      return `${typeof said === "number" ? said.toFixed(digits) : said}${choice}`;
    })
    .join(", ");
}

/** All figures of a comparison as CSV (RFC 4180, 2005): a heading, then one row for each candidate, with unrounded numbers. */
export function comparisonCsv({ candidates, spread }: Comparison): string {
  const columns = comparisonColumns(spread);
  const quoted = (value: string | number) =>
    /[",\r\n]/.test(String(value)) ? `"${String(value).replaceAll('"', '""')}"` : String(value);
  const lines = [
    columns.map(({ key }) => key),
    ...candidates.map((one) => columns.map(({ value }) => quoted(value(one)))),
  ];
  return lines.map((line) => `${line.join(",")}\r\n`).join("");
}
