import type { Spread } from "../core/spread.js";
import type { Flag } from "./flags.js";
import type { Given } from "./given.js";

/** True for the option that is given in parts: a later layer replaces only the parts that it names. */
export const isInParts = ({ option }: Pick<Flag, "option">): boolean => option === "spread";

/**
 * Layers of options in one, by their names in the library. An option of a later layer wins. Of the spread, each part does. The dose
 * spread is another form of the common part, so the later of the two wins.
 */
export function overlaid(layers: readonly (readonly Given[])[]): Map<string, Given> {
  const given = new Map<string, Given>();
  for (const layer of layers) {
    const below = partsOf(given.get("spread"));
    const parts = partsOf(layer.find(isSpread));
    if (parts?.common !== undefined) given.delete("doseSpread");
    const kept = layer.some(({ flag }) => flag.option === "doseSpread") ? without(below, "common") : below;
    const spread = given.get("spread");
    if (spread && kept) given.set("spread", { ...spread, value: kept });
    for (const each of layer) {
      given.set(each.flag.option, isSpread(each) ? mergedSpread(each, kept, spread) : each);
    }
  }
  return given;
}

/** A spread over the parts that are left of the one below, which may come from another place. */
function mergedSpread(above: Given, kept: Parts | undefined, below: Given | undefined): Given {
  const value = merged(kept, above.value);
  const isMixed =
    below !== undefined && Object.keys(Object(value)).length > Object.keys(Object(above.value)).length;
  return { ...above, value, where: isMixed ? `${above.where} and ${below.where}` : above.where };
}

type Parts = Partial<Spread>;

const isSpread = ({ flag }: Given): boolean => isInParts(flag);

/** The parts of a spread. A value that is no object is left to the check of the options. */
const partsOf = (spread: Given | undefined): Parts | undefined =>
  isObject(spread?.value) ? spread.value : undefined;

const isObject = (value: unknown): value is object =>
  typeof value === "object" && value !== null && !Array.isArray(value);

const merged = (below: Parts | undefined, above: unknown): unknown =>
  isObject(above) ? { ...below, ...above } : above;

const without = (parts: Parts | undefined, name: keyof Spread): Parts | undefined =>
  parts && Object.fromEntries(Object.entries(parts).filter(([part]) => part !== name));
