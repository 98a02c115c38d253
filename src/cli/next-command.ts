import type { Plan } from "../6-report/plan.js";
import { densityWords, mmWords } from "../core/words.js";
import { commandOptions, type Flag, flagName, isSwitch, switchName } from "./flags.js";
import { quoted } from "./quoted.js";
import type { SettingFiles } from "./read-options.js";

/** The file name in the command for a plan without a picture. */
const YOURS = { photo: "your-photo.jpg", strip: "your-drawing.svg", shade: "your-drawing.svg" } as const;

/** What was typed for a plan. */
interface TypedPlan extends SettingFiles {
  readonly photo: string | undefined;
  readonly out: string | undefined;
  /** By flag name. */
  readonly typed: ReadonlyMap<string, string | boolean>;
}

/** A plan's own choice. Its spot is already the one on the work. */
const CHOSEN = ["linesPerInch", "spotMm", "kind", "wavelengthMm", "propagationRatio", "defocusMm"];

/**
 * The command that prepares the piece at the chosen density and spot. It keeps the typed options of the plan that `prepare` has.
 * For `strip` and `shade` the kind is solid artwork. For a photo the kind is set too, so that it is not taken for a drawing. If the
 * picture is solid artwork, its edges decide, so the density is left to its default.
 */
export function nextCommand(plan: Plan, request: TypedPlan): string {
  const { photo, out, typed } = request;
  const { kind } = plan.job;
  const isSolid = plan.notes.some(({ code }) => code === "solid-artwork");
  return [
    "npx spotpitch prepare",
    quoted(photo ?? YOURS[kind]),
    `--kind ${kind === "photo" && !isSolid ? "photo" : "solid"}`,
    ...settingWords(request),
    ...outWords(out),
    ...keptFlags(commandOptions.prepare.flags, typed, CHOSEN),
    ...gridWords(plan, isSolid ? undefined : plan.recommended.linesPerInch, request),
  ].join(" ");
}

/** The command that finds the power for full tone; undefined if it is known. */
export function findPowerCommand(plan: Plan, request: TypedPlan): string | undefined {
  const { out, typed } = request;
  const { testLinesPerInch } = plan.power;
  if (testLinesPerInch === undefined) return undefined;
  return [
    "npx spotpitch power-test",
    ...settingWords(request),
    ...outWords(out),
    ...keptFlags(commandOptions["power-test"].flags, typed, CHOSEN),
    ...gridWords(plan, testLinesPerInch, request),
  ].join(" ");
}

/** The command that reads a picture of a card, with what was typed for the card. */
export const calibrateCommandWords = (request: Omit<TypedPlan, "photo">): string =>
  [
    "npx spotpitch calibrate your-picture.jpg",
    ...settingWords(request),
    ...outWords(request.out),
    ...keptFlags(commandOptions.calibrate.flags, request.typed, []),
  ].join(" ");

/** The files of settings that were typed. A default machine is found again. */
const settingWords = ({ config, machine }: SettingFiles): string[] => [
  ...(config === undefined ? [] : ["--config", quoted(config)]),
  ...(machine === undefined ? [] : machine === false ? ["--no-machine"] : ["--machine", quoted(machine)]),
];

/** The folder that was typed; one of the config file is kept with the file. */
const outWords = (out: string | undefined): string[] => (out === undefined ? [] : ["--out", quoted(out)]);

/** The typed flags that a command has. */
const keptFlags = (flags: readonly Flag[], typed: TypedPlan["typed"], without: readonly string[]): string[] =>
  flags.flatMap((flag) => {
    const value = typed.get(flagName(flag));
    return value === undefined || without.includes(flag.option) ? [] : spelled(flag, value);
  });

function gridWords(plan: Plan, linesPerInch: number | undefined, { config }: SettingFiles): string[] {
  const { spotAlongMm, spotAcrossMm } = plan.lenses[plan.rows[plan.recommended.row].lens];
  const along = spotAlongMm === spotAcrossMm ? "" : `${Number(spotAlongMm.toPrecision(3))}x`;
  return [
    ...(linesPerInch === undefined ? [] : [`--density ${densityWords(linesPerInch)}`]),
    // An assumed spot is left out, so that it is not taken for a measured one; not one that a defocus has widened.
    ...(plan.job.assumed.includes("spotMm") && plan.job.defocusMm === undefined
      ? []
      : [`--spot ${along}${mmWords(spotAcrossMm).replace(" ", "")}`]),
    // A defocus of the config file would widen the spot once more.
    ...(config !== undefined && plan.job.defocusMm !== undefined ? ["--defocus 0"] : []),
  ];
}

/** A flag as it was typed. */
function spelled(flag: Flag, value: string | boolean): string[] {
  return isSwitch(flag) ? [`--${switchName(flag, value)}`] : [`--${flagName(flag)}`, quoted(String(value))];
}
