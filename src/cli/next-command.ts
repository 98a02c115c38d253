import type { Plan } from "../6-report/plan.js";
import { densityWords, mmWords } from "../core/words.js";
import { type Flag, flagName, isNegative, isSwitch, oppositeName, prepareFlags } from "./flags.js";

/** Stands in the command where a plan was made without a picture. */
const YOURS = { photo: "your-photo.jpg", strip: "your-drawing.svg", shade: "your-drawing.svg" } as const;

/**
 * The command that prepares what was planned at the chosen density: what was typed for the plan and means something to
 * `prepare`, with density and spot as chosen. A coating to take off or a shade to fill is solid artwork; what was planned as a
 * photo is not to be taken for a drawing.
 *
 * @param typed values by flag name
 */
export function nextCommand(
  plan: Plan,
  photo: string | undefined,
  typed: ReadonlyMap<string, string | boolean>,
  config: string | undefined,
): string {
  const { kind } = plan.job;
  const { row, linesPerInch } = plan.recommended;
  const { spotAlongMm, spotAcrossMm } = plan.lenses[plan.rows[row].lens];
  const along = spotAlongMm === spotAcrossMm ? "" : `${Number(spotAlongMm.toPrecision(3))}x`;
  const kept = prepareFlags.flatMap((flag) => {
    const value = typed.get(flagName(flag));
    return value === undefined || ["density", "spot", "kind"].includes(flagName(flag))
      ? []
      : spelled(flag, value);
  });
  return [
    "npx spotpitch prepare",
    quoted(photo ?? YOURS[kind]),
    `--kind ${kind === "photo" ? "photo" : "solid"}`,
    ...(config === undefined ? [] : ["--config", quoted(config)]),
    ...kept,
    `--density ${densityWords(linesPerInch)}`,
    `--spot ${along}${mmWords(spotAcrossMm).replace(" ", "")}`,
  ].join(" ");
}

/** A flag as it was typed. */
function spelled(flag: Flag, value: string | boolean): string[] {
  const name = flagName(flag);
  if (!isSwitch(flag)) return [`--${name}`, quoted(String(value))];
  return [`--${value === isNegative(name) ? oppositeName(flag) : name}`];
}

/** For a shell, where it has to be. */
const quoted = (word: string): string =>
  /^[\w@%+=:,./-]+$/.test(word) ? word : `'${word.replaceAll("'", "'\\''")}'`;
