import { METRIC, type ShownUnits } from "./shown-units.js";
import { speedFromMmPerS } from "./units.js";
import { densityWords } from "./words.js";

/** Where options were given by option name: "the command line", "the machine file mine.json". */
export type GivenBy = Readonly<Record<string, string>>;

/** The place of an option that was typed. */
export const TYPED = "the command line";

/**
 * The reader of a sentence. A programmer knows option names, a user of the command knows flags, and a job sheet has columns. Each
 * sentence is written once and gets these names from the reader.
 */
export interface Reader {
  /** An option: `widthMm`, `--width`, `"width"`. */
  readonly option: (name: string) => string;
  /** An option set to a value: `kind: "solid"`, `--kind solid`. A switch: `negative: true`, `--negative`. */
  readonly setting: (name: string, value: unknown) => string;
  /** The name of a list: `halftoneMethods`, `"spotpitch methods"`. */
  readonly list: (of: "methods" | "materials") => string;
  /** The units that the reader thinks in. */
  readonly units: ShownUnits;
  /** Where the machine's figures were given. Absent in the library. */
  readonly givenBy?: GivenBy;
  /**
   * How to find the power for full tone at a density: `powerTest({ linesPerInch: 254 })`, `"spotpitch power-test --density 254"`.
   */
  readonly powerTest: (linesPerInch: number) => string;
  /** How to make a test card, to measure machine and material: `testCard()`, `"spotpitch card --material maple"`. */
  readonly testCard: (material?: string) => string;
  /** What reads a check card: `checkTones()`, `--check`. */
  readonly checking: () => string;
  /** The option that gives a full-tone setting: `--power 40%@254@300mm/s`. */
  readonly fullTone: (found: FoundPower) => string;
}

/** A full-tone setting, and where it was found. */
export interface FoundPower {
  readonly percent: number;
  readonly linesPerInch: number;
  /** Absent if it is the speed of the job. */
  readonly speedMmPerS?: number | undefined;
}

/** A full-tone setting as it is typed: `40%@254@300mm/s`. */
export function fullToneText(
  { percent, linesPerInch, speedMmPerS }: FoundPower,
  { speed: unit }: ShownUnits,
): string {
  const speed = speedMmPerS === undefined ? "" : `@${speedNumber(speedFromMmPerS(speedMmPerS, unit))}${unit}`;
  return `${Number(percent.toPrecision(3))}%@${densityWords(linesPerInch)}${speed}`;
}

/** Five digits: a speed that is read again is the same, and a slow one is not zero. */
const speedNumber = (speed: number): string => String(Number(speed.toPrecision(5)));

/** A programmer who calls the library. */
export const libraryReader: Reader = {
  option: (name) => name,
  setting: (name, value) => `${name}: ${JSON.stringify(value)}`,
  list: (of) => (of === "methods" ? "halftoneMethods" : "materialPresets"),
  units: METRIC,
  powerTest: (linesPerInch) => `powerTest({ linesPerInch: ${densityWords(linesPerInch)} })`,
  testCard: (material) =>
    `testCard(${material === undefined ? "" : `{ material: ${JSON.stringify(material)} }`})`,
  checking: () => "checkTones",
  fullTone: ({ percent, linesPerInch, speedMmPerS }) =>
    `powerPercent: { percent: ${Number(percent.toPrecision(3))}, linesPerInch: ${densityWords(linesPerInch)}${speedMmPerS === undefined ? "" : `, speedMmPerS: ${speedNumber(speedMmPerS)}`} }`,
};
