import type { Report, Warning } from "../../6-report/report.js";

type Warned = Pick<Report, "warnings">;

/** A warning of an option without effect that does not name the candidate's halftone, so that it is the same for all. */
export function ofNoMethod(warning: Warning): Warning {
  if (warning.code !== "option-idle") return warning;
  const data = Object.entries(warning.data).filter(([name]) => name !== "method");
  return { ...warning, data: Object.fromEntries(data) };
}

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
