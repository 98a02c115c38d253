import { isSwitch, type Option, type TextForm } from "./option.js";

/** The default of an option, in words for the help. */
export function defaultWords({ takes, text, otherwise, flag }: Option): string | undefined {
  if (otherwise !== undefined || isSwitch(flag)) return otherwise;
  const value: unknown = takes.parse(undefined);
  return value === undefined ? undefined : written(text, value);
}

const written = ({ unit = "", times = 1 }: TextForm, value: unknown): string =>
  typeof value === "number" && value !== 0
    ? `${Number((value * times).toPrecision(12))}${unit}`
    : String(value);

/** What an option takes, in the words of its refusals. */
export const takesWords = ({ takes }: Option): string => takes.safeParse(null).error?.issues[0].message ?? "";
