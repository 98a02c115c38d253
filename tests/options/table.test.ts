import { describe, expect, it } from "vitest";
import { batchTable } from "../../src/batch/batch-options.js";
import { isSwitch, type Option, type OptionTable } from "../../src/options/option.js";
import { defaultWords, takesWords } from "../../src/options/option-words.js";
import {
  type CompareOptions,
  compareSchema,
  compareTable,
  type PlanOptions,
  type PrepareOptions,
  planSchema,
  planTable,
  prepareSchema,
  prepareTable,
} from "../../src/options/tables.js";

const tables: readonly (readonly [command: string, table: OptionTable])[] = [
  ["prepare", prepareTable],
  ["plan", planTable],
  ["batch", batchTable],
  ["compare", compareTable],
];
const everyOption: readonly (readonly [command: string, name: string, option: Option])[] = tables.flatMap(
  ([command, table]) => Object.entries(table).map(([name, option]) => [command, name, option] as const),
);

describe.each(tables)("the options of %s", (_, table) => {
  it("have flags of their own", () => {
    const flags = Object.values(table).map(({ flag }) => flag.split(" ")[0].replace(/^--(no-)?/, ""));
    expect(new Set(flags).size).toBe(flags.length);
  });
});

describe.each(everyOption)("%s: %s", (_, name, option) => {
  it("has the same flag in every command", () => {
    const flags = tables.flatMap(([, table]) => table[name]?.flag.split(" ")[0] ?? []);
    expect(new Set(flags).size).toBe(1);
  });

  // Option checks skip defaults, so each default must lie within its own limits.
  it("takes its own default", () => {
    const value: unknown = option.takes.parse(undefined);
    if (value !== undefined) expect(option.takes.unwrap().parse(value)).toEqual(value);
  });

  it("shows its default as it would be typed", () => {
    const value: unknown = option.takes.parse(undefined);
    if (isSwitch(option.flag)) {
      expect(value).toBe(option.flag.startsWith("--no-"));
    } else if (option.otherwise === undefined && typeof value === "number") {
      const typed = option.text.read(name, defaultWords(option) ?? "");
      const number = typeof typed === "object" ? Object.values(typed ?? {})[0] : typed;
      expect(number).toBeCloseTo(value, 12);
    }
  });

  it("says in plain words what it takes", () => {
    expect(takesWords(option)).toMatch(/^\S.*\S$/);
    expect(takesWords(option)).not.toMatch(/invalid|expected|undefined/i);
  });
});

describe("the types of options", () => {
  it("take what the checks take", () => {
    const prepare: PrepareOptions = { kind: "solid", aroundMm: { topMm: 80, bottomMm: 60 }, crop: undefined };
    const plan: PlanOptions = { kind: "strip", spotMm: [0.1, { alongMm: 0.1, acrossMm: 0.2 }], markMm: 0.1 };
    const compare: CompareOptions = { method: ["stucki"], linesPerInch: 254, toneMap: ["luminance"] };
    expect(prepareSchema.safeParse(prepare).success).toBe(true);
    expect(planSchema.safeParse(plan).success).toBe(true);
    expect(compareSchema.safeParse(compare).success).toBe(true);
  });

  it("refuse what the checks refuse", () => {
    // @ts-expect-error another command's kind of work
    const strip: PrepareOptions = { kind: "strip" };
    // @ts-expect-error only plan takes it
    const late: PrepareOptions = { minutes: 10 };
    // @ts-expect-error a plan chooses the density
    const dense: PlanOptions = { linesPerInch: 254 };
    // @ts-expect-error compare takes no list of these
    const wide: CompareOptions = { widthMm: [80, 90] };
    expect(prepareSchema.safeParse(strip).success).toBe(false);
    expect(prepareSchema.safeParse(late).success).toBe(false);
    expect(planSchema.safeParse(dense).success).toBe(false);
    expect(compareSchema.safeParse(wide).success).toBe(false);
  });
});
