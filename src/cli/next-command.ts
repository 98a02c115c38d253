import type { Plan } from "../6-report/plan.js";
import { densityWords, mmWords } from "../core/words.js";
import { type Flag, flagName, isNegative, isSwitch, oppositeName, prepareFlags } from "./flags.js";

/**
 * The command that prepares a planned photo at the chosen density: what was typed for the plan and means something to
 * `prepare`, with density and spot as chosen.
 *
 * @param typed values by flag name
 */
export function nextCommand(
  plan: Plan,
  photo: string,
  typed: ReadonlyMap<string, string | boolean>,
  config: string | undefined,
): string {
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
    "spotpitch prepare",
    quoted(photo),
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
