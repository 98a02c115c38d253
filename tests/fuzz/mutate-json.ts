import type { Random } from "../../src/core/random.js";
import { below, oneOf } from "./mutate-bytes.js";

const VALUES: readonly unknown[] = [
  ...[null, true, false, 0, -1, 1, 0.5, 1e-300, 1e300, 2 ** 53, "", "0", "-1mm", "1e9", "NaN", "5 %", "auto"],
  ...[
    [],
    {},
    [[]],
    [0, 1],
    { __proto__: null },
    "\u0000",
    "x".repeat(5000),
    "../../etc/passwd",
    "../",
    "10,20,30,40",
  ],
];

/** One change somewhere in a value of JSON: another value, one taken away, doubled, renamed or moved. */
export function mutateJson(random: Random, value: unknown): unknown {
  if (Array.isArray(value)) {
    const list: unknown[] = [...value];
    if (list.length === 0) return [oneOf(random, VALUES)];
    const at = below(random, list.length);
    const change = below(random, 6);
    if (change === 0) list.splice(at, 1);
    else if (change === 1) list.splice(at, 0, list[below(random, list.length)]);
    else if (change === 2) list.reverse();
    else list[at] = random() < 0.4 ? oneOf(random, VALUES) : mutateJson(random, list[at]);
    return list;
  }
  if (typeof value === "object" && value !== null) {
    const entries = Object.entries(value);
    if (entries.length === 0) return oneOf(random, VALUES);
    const at = below(random, entries.length);
    const [key, old] = entries[at];
    const change = below(random, 8);
    if (change === 0) entries.splice(at, 1);
    else if (change === 1) entries[at] = [key.slice(1) + key[0], old];
    else if (change === 2)
      entries.push([oneOf(random, ["__proto__", "constructor", "", "toString", "doses"]), old]);
    else entries[at] = [key, random() < 0.4 ? oneOf(random, VALUES) : mutateJson(random, old)];
    return Object.fromEntries(entries);
  }
  if (typeof value === "number" && random() < 0.6) {
    return oneOf(random, [-value, value * 1e6, value / 1e6, value + 1, String(value), Math.round(value)]);
  }
  if (typeof value === "string" && value.length > 0 && random() < 0.6) {
    const at = below(random, value.length);
    return (
      value.slice(0, at) +
      oneOf(random, ["", ",", "..", "e", "-", "mm", "\n", "é", "0"]) +
      value.slice(at + 1)
    );
  }
  return oneOf(random, VALUES);
}
