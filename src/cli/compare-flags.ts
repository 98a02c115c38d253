import { VARIED } from "../options/compare-options.js";
import { type Flag, prepareFlags } from "./flags.js";

const WITHOUT = ["bitmapOnly", "format", "kind"];

/** Options of which `compare` takes several, by commas. */
const listed = (flag: Flag): Flag => ({
  ...flag,
  help: `${flag.help}; several by commas are compared`,
  parse(name, text) {
    const values = text.split(",").map((part) => flag.parse(name, part.trim()));
    return values.length === 1 ? values[0] : values;
  },
});

/** The options of `compare`, in the order of its help. */
export const compareFlags: readonly Flag[] = prepareFlags
  .filter(({ option }) => !WITHOUT.includes(option))
  .map((flag) =>
    flag.option === "method"
      ? { ...listed(flag), help: "halftone methods by commas, auto or all (default: one of each character)" }
      : VARIED.some((name) => name === flag.option)
        ? listed(flag)
        : flag,
  );
