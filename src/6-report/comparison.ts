import type { Report } from "./report.js";

/** One way to prepare the photo, with the figures of its report. */
export interface Candidate {
  readonly method: string;
  readonly linesPerInch: number;
  readonly material: string;
  readonly toneMap: Report["job"]["toneMap"];
  readonly spotAlongMm: number;
  readonly spotAcrossMm: number;
  /** Against what the photo asks for, in L*, at the nominal dose. */
  readonly visualErrorRms: number;
  readonly visualErrorBias: number;
  /** Mean over the doses of the process spread, in L*. */
  readonly expectedVisualError: number;
  readonly tonalResolution: NonNullable<Report["tonalResolution"]>;
  /** Share of pixels that burn. */
  readonly burnFraction: number;
  readonly seconds: number;
  readonly beamOnSeconds: number;
  /** Of the run time, 0..1. */
  readonly beamOnShare: number;
}

/** The same photo prepared in several ways. Its keys are promised; more may be added. */
export interface Comparison {
  readonly tool: Report["tool"];
  readonly photo: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly doseSpread: number;
  readonly candidates: readonly Candidate[];
  /** Indices: least visual error at the nominal dose, least expected one, least run time (within 1 %: least expected error). */
  readonly winners: { readonly nominal: number; readonly robust: number; readonly fast: number };
}

/** A column of the table, and of the CSV file. */
interface Column {
  readonly key: string;
  readonly head: readonly [string, string];
  readonly value: (candidate: Candidate) => string | number;
  readonly digits?: number;
}

const heldAt = (detailMm: number) => (candidate: Candidate) =>
  candidate.tonalResolution.find((tones) => tones.detailMm === detailMm)?.held ?? "";

/** Figures of a candidate, as table and CSV file show them. */
export const comparisonColumns: readonly Column[] = [
  { key: "method", head: ["", "method"], value: ({ method }) => method },
  { key: "material", head: ["", "material"], value: ({ material }) => material },
  { key: "linesPerInch", head: ["lines", "per inch"], value: (one) => one.linesPerInch, digits: 0 },
  { key: "spotAlongMm", head: ["spot", "along mm"], value: (one) => one.spotAlongMm, digits: 3 },
  { key: "spotAcrossMm", head: ["spot", "across mm"], value: (one) => one.spotAcrossMm, digits: 3 },
  { key: "toneMap", head: ["tone", "map"], value: ({ toneMap }) => toneMap },
  { key: "visualErrorRms", head: ["error", "L*"], value: (one) => one.visualErrorRms, digits: 2 },
  {
    key: "expectedVisualError",
    head: ["expected", "L*"],
    value: (one) => one.expectedVisualError,
    digits: 2,
  },
  { key: "visualErrorBias", head: ["bias", "L*"], value: (one) => one.visualErrorBias, digits: 2 },
  { key: "heldAt0.25mm", head: ["tones held", "at 0.25 mm"], value: heldAt(0.25), digits: 1 },
  { key: "heldAt1mm", head: ["tones held", "at 1 mm"], value: heldAt(1), digits: 1 },
  { key: "burnFraction", head: ["burned", "share"], value: (one) => one.burnFraction, digits: 3 },
  { key: "beamOnShare", head: ["beam on", "share"], value: (one) => one.beamOnShare, digits: 3 },
  { key: "seconds", head: ["run time", "s"], value: (one) => one.seconds, digits: 0 },
];

/** RFC 4180, numbers in full. */
export function comparisonCsv({ candidates }: Comparison): string {
  const quoted = (value: string | number) =>
    /[",\r\n]/.test(String(value)) ? `"${String(value).replaceAll('"', '""')}"` : String(value);
  const lines = [
    comparisonColumns.map(({ key }) => key),
    ...candidates.map((one) => comparisonColumns.map(({ value }) => quoted(value(one)))),
  ];
  return lines.map((line) => `${line.join(",")}\r\n`).join("");
}
