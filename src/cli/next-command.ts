import type { Plan } from "../6-report/plan.js";
import { densityWords, mmWords } from "../core/words.js";
import { commandOptions, type Flag, flagName, isSwitch, switchName } from "./flags.js";

/** The file name in the command for a plan without a picture. */
const YOURS = { photo: "your-photo.jpg", strip: "your-drawing.svg", shade: "your-drawing.svg" } as const;

/**
 * The command that prepares the piece at the chosen density and spot. It keeps the typed options of the plan that `prepare` has. For
 * `strip` and `shade` the kind is solid artwork. For a photo the kind is set too, so that it is not taken for a drawing.
 *
 * @param typed values by flag name
 */
export function nextCommand(
  plan: Plan,
  photo: string | undefined,
  typed: ReadonlyMap<string, string | boolean>,
  config: string | undefined,
): string {
  const { kind, defocusMm } = plan.job;
  const { row, linesPerInch } = plan.recommended;
  const { spotAlongMm, spotAcrossMm } = plan.lenses[plan.rows[row].lens];
  const along = spotAlongMm === spotAcrossMm ? "" : `${Number(spotAlongMm.toPrecision(3))}x`;
  const chosen = ["linesPerInch", "spotMm", "kind", "wavelengthMm", "propagationRatio", "defocusMm"];
  const kept = commandOptions.prepare.flags.flatMap((flag) => {
    const value = typed.get(flagName(flag));
    return value === undefined || chosen.includes(flag.option) ? [] : spelled(flag, value);
  });
  return [
    "npx spotpitch prepare",
    quoted(photo ?? YOURS[kind]),
    `--kind ${kind === "photo" ? "photo" : "solid"}`,
    ...(config === undefined ? [] : ["--config", quoted(config)]),
    ...kept,
    `--density ${densityWords(linesPerInch)}`,
    `--spot ${along}${mmWords(spotAcrossMm).replace(" ", "")}`,
    // The spot is already the one on the work: a defocus of the config file would widen it once more.
    ...(config !== undefined && defocusMm !== undefined ? ["--defocus 0"] : []),
  ].join(" ");
}

/** A flag as it was typed. */
function spelled(flag: Flag, value: string | boolean): string[] {
  return isSwitch(flag) ? [`--${switchName(flag, value)}`] : [`--${flagName(flag)}`, quoted(String(value))];
}

/** Quoted for a shell, if necessary. */
const quoted = (word: string): string =>
  /^[\w@%+=:,./-]+$/.test(word) ? word : `'${word.replaceAll("'", "'\\''")}'`;
