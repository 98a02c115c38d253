import type { Material } from "../../../core/material/material.js";
import type { Reader } from "../../../core/reader.js";
import type { BeamMotion } from "../../../core/spot.js";
import type { Report } from "../../report.js";

/** Facts about machine and material for the page that the report does not have. */
interface JobSettings {
  readonly motion: BeamMotion;
  readonly accelerationMmPerS2: number;
  readonly stepTimeS: number;
  readonly material: Pick<Material, "referencePitchMm">;
}

/** The source of the facts. */
export interface FactSource {
  readonly report: Report;
  readonly settings: JobSettings;
  /** Who reads the facts. */
  readonly reader: Reader;
}

/** A line of the table. Without a value it is omitted, so an optional key needs only one line of data here. */
export type Fact<Source> = readonly [
  name: string,
  value: (from: Source) => string | undefined,
  /** Small print below the value. */
  note?: string | ((from: Source) => string | undefined),
];

/** A fact in the form of the page. */
export interface ToldFact {
  readonly name: string;
  readonly value: string;
  readonly note?: string | undefined;
}

/** Facts about one subject. */
export interface FactGroup {
  readonly title: string;
  readonly tell: (from: FactSource) => readonly ToldFact[];
}

/** @param of selects the subject of the facts; without a subject there are no facts */
export const factGroup = <Source>(
  title: string,
  of: (from: FactSource) => Source | undefined,
  facts: readonly Fact<Source>[],
): FactGroup => ({
  title,
  tell(from) {
    const source = of(from);
    if (source === undefined) return [];
    return facts.flatMap(([name, value, note]) => {
      const told = value(source);
      return told === undefined
        ? []
        : [{ name, value: told, note: typeof note === "function" ? note(source) : note }];
    });
  },
});

export const yesNo = (yes: boolean): string => (yes ? "yes" : "no");

export const digits = (value: number, count = 3): string => String(Number(value.toPrecision(count)));

/** A number without the sign of a rounded zero. */
export const lightnessError = (value: number): string => `${value.toFixed(2).replace(/^-(?=0\.00$)/, "")} L*`;

/** A figure along the lines and across them, or one figure if they are the same. */
export const alongAcross = (along: string, across: string): string =>
  along === across ? across : `${along} along, ${across} across`;
