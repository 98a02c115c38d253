import { densityWords, listWords } from "../core/words.js";
import type { Machine, MachineFigures } from "../options/machine.js";
import { spreadWords } from "../options/quantities.js";
import { row } from "./labelled-row.js";
import {
  defaultMachinePath,
  findMachine,
  forgetMachine,
  keepMachine,
  readMachineFile,
} from "./machine-file.js";
import { print } from "./terminal.js";

interface MachineRequest {
  readonly file: string | undefined;
  readonly forget: boolean;
  readonly json: boolean;
}

/** `spotpitch machine`: keep a machine as the user's default, show the one that is kept, or forget it. */
export async function machineCommand({ file, forget, json }: MachineRequest): Promise<void> {
  if (forget) await forgetMachine();
  if (file !== undefined) await keepMachine(await readMachineFile(file));
  const kept = forget && file === undefined ? undefined : (await findMachine(undefined))?.machine;
  print(json ? `${JSON.stringify(kept ?? null, undefined, 2)}\n` : `${machineWords(kept)}\n`);
}

function machineWords(machine: Machine | undefined): string {
  if (!machine) {
    return "No machine is kept: spot, speed and so on are assumed where you do not give them.\nKeep yours with: spotpitch machine FILE";
  }
  const { name, source, options } = machine;
  return [
    row("machine", name),
    ...figureRows(options),
    ...(source === undefined ? [] : [row("source", source)]),
    row("kept", `${defaultMachinePath()}; every command uses it, except with --machine or --no-machine`),
  ].join("\n");
}

function figureRows(figures: MachineFigures): string[] {
  const { spotMm, spread, oneWay, linesPerInchOffered } = figures;
  const round = (of: number): string => String(Number(of.toPrecision(4)));
  const number = (label: string, value: number | undefined, unit: string): string[] =>
    value === undefined ? [] : [row(label, `${round(value)} ${unit}`)];
  const spot =
    typeof spotMm === "number"
      ? round(spotMm)
      : spotMm && `${round(spotMm.alongMm)} × ${round(spotMm.acrossMm)}`;
  return [
    ...(spot === undefined
      ? []
      : [row("spot", `${spot} mm${typeof spotMm === "object" ? " (along × across)" : ""}`)]),
    ...(spread === undefined ? [] : [row("spread", spreadWords(spread))]),
    ...number("firing lag", figures.firingLagUs, "µs"),
    ...number("firing loss", figures.firingLossUs, "µs"),
    ...number("line shift", figures.lineShiftMm, "mm"),
    ...(oneWay === undefined ? [] : [row("burns", oneWay ? "one way" : "both ways")]),
    ...number("speed", figures.speedMmPerS, "mm/s"),
    ...number("acceleration", figures.accelerationMmPerS2, "mm/s²"),
    ...(linesPerInchOffered === undefined
      ? []
      : [row("offers", `${listWords(linesPerInchOffered.map(densityWords), "and")} lines per inch`)]),
  ];
}
