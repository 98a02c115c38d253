import type { Report, Warning } from "../../6-report/report.js";

type Warned = Pick<Report, "warnings">;

/**
 * The warnings of a candidate without those of options that have an effect on another one: an angle for the one screen among other
 * halftones is no mistake.
 */
export function withoutUsefulElsewhere({ warnings }: Warned, all: readonly Warned[]): readonly Warning[] {
  return warnings.filter(
    (warning) =>
      warning.code !== "option-idle" ||
      all.every((other) => other.warnings.some((each) => idles(each, optionOf(warning)))),
  );
}

const idles = (warning: Warning, option: unknown): boolean =>
  warning.code === "option-idle" && optionOf(warning) === option;

const optionOf = ({ data }: Warning): unknown => Reflect.get(data, "option");
